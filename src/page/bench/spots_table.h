// The table of seen spots: every facet of the dish, its spot typed in mm.
#pragma once

#include "page/bench/align_bench.h"

namespace page {

void show_spots_table(const session::Session& session, AlignMemory& memory,
                      session::Actions& actions);

}  // namespace page
