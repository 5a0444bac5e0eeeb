// Rows of the sun: how strong its direct light is, and how bright its disc from the middle outward.
#pragma once

#include "dish/dish.h"
#include "page/bench/fields.h"

namespace page {

void show_sun_rows(const dish::Dish& dish, FieldMemory& memory, session::Actions& actions);

}  // namespace page
