// Bench of the stage Align: what was seen, under which light, and what to do about it.
#pragma once

#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

struct AlignMemory {
  FieldMemory fields;
};

/// Fills the current window.
void show_align_bench(const session::Session& session, AlignMemory& memory,
                      session::Actions& actions);

}  // namespace page
