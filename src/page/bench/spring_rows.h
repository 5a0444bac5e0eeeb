// Rows of the spring at a mount's screws, and mounts for a dish that has none.
#pragma once

#include "page/bench/fields.h"

namespace page {

void show_spring_rows(const dish::Dish& dish, const dish::Mount& mount, FieldMemory& memory,
                      session::Actions& actions);

/// Gives the dish the default mount with its spring, and every facet that mount.
void add_default_mount(const dish::Dish& dish, session::Actions& actions);

}  // namespace page
