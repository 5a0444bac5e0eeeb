// A dish to the bytes of its file, always the same bytes for the same dish.
#pragma once

#include <string>

#include "dish/dish.h"

namespace files {

/// Canonical text of a dish: fixed key order, one line for each facet, LF, a final newline.
/// read_dish(write_dish(d)) gives d to the last bit, and the same dish always gives the same bytes.
std::string write_dish(const dish::Dish& dish);

}  // namespace files
