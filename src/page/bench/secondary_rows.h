// Rows that choose, place and size the secondary mirror.
#pragma once

#include "page/bench/fields.h"

namespace page {

void show_secondary_rows(const dish::Dish& dish, FieldMemory& memory, session::Actions& actions);

}  // namespace page
