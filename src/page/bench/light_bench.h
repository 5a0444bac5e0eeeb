// Bench of the stage Light: the sun's error, the mirrors' quality, the ledger and the full trace.
#pragma once

#include "page/bench/fields.h"
#include "page/bench/search_rows.h"
#include "session/session.h"

namespace page {

struct LightMemory {
  FieldMemory fields;
  std::size_t type = 0;  ///< which facet type is edited
  SearchMemory search;
};

/// Fills the current window.
void show_light_bench(const session::Session& session, LightMemory& memory,
                      session::Actions& actions);

}  // namespace page
