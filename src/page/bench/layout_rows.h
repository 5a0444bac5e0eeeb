// Rows of a layout recipe: tried beside the dish first, then laid out.
#pragma once

#include "page/bench/lay_out_bench.h"

namespace page {

void show_layout_rows(const session::Session& session, LayOutMemory& memory,
                      session::Actions& actions);

}  // namespace page
