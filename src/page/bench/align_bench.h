// Bench of the stage Align: what was seen, under which light, and what to do about it.
#pragma once

#include "page/bench/fields.h"
#include "page/bench/practice_rows.h"
#include "session/session.h"

namespace page {

struct AlignMemory {
  FieldMemory fields;
  PracticeMemory practice;
};

/// Fills the current window.
void show_align_bench(const session::Session& session, AlignMemory& memory,
                      session::Actions& actions);

}  // namespace page
