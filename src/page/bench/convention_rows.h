// Rows that choose how the three screws share a tilt, and how fine a hand can turn.
#pragma once

#include "page/bench/align_bench.h"

namespace page {

void show_convention_rows(const session::Session& session, AlignMemory& memory,
                          session::Actions& actions);

}  // namespace page
