// Rows of a kind of facet: the form of its surface and the quality of its mirror.
#pragma once

#include <cstddef>

#include "page/bench/fields.h"

namespace page {

/// `type`: which of the dish's facet types is edited.
void show_facet_type_rows(const dish::Dish& dish, FieldMemory& memory, std::size_t& type,
                          session::Actions& actions);

}  // namespace page
