// Bytes of a dish file to a dish, or to problems that say where to look. Never touches a disk.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"

namespace files {

/// A dish that was read, and what the person should know about how it was read: keys of another
/// version that were kept, steps of migration, a layout that was expanded.
struct ReadDish {
  dish::Dish dish;
  std::vector<std::string> notes;
};

/// Largest file that is looked at.
inline constexpr std::size_t k_dish_file_cap_bytes = 64u << 20u;

/// Reads a dish file (JSON, "format": "facetwright dish"). `file_name` is only used to name places.
/// Everything that need not be said has a default; older versions are migrated; keys this version
/// does not know are kept in Dish::unknown. Problems, at most 20 in one go, name file, line, key,
/// value and what was expected: bad JSON, bad or out-of-range values, keys in another unit, names
/// that nothing has, and whatever dish::check calls an error.
base::Result<ReadDish> read_dish(std::string_view bytes, std::string_view file_name);

}  // namespace files
