// Rows of a kind of facet: the form of its surface and the quality of its mirror.
#pragma once

#include "page/bench/light_bench.h"

namespace page {

void show_facet_type_rows(const dish::Dish& dish, LightMemory& memory, session::Actions& actions);

}  // namespace page
