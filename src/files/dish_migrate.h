// Files of older versions, brought up to date step by step before they are read.
#pragma once

#include <string>
#include <vector>

#include "files/json_value.h"

namespace files {

inline constexpr int k_dish_version = 1;

/// Changes the tree of a dish file of `version` (0 .. k_dish_version) into that of the present
/// version, without rounding any number. Says in `notes` what each step did. Parts that do not look
/// as they should are left for the reader to complain about.
void migrate_dish(JsonValue& root, int version, const std::string& file_name,
                  std::vector<std::string>& notes);

}  // namespace files
