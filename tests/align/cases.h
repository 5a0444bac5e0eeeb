// The six worked cases of tests/references/align/alignment-cases.json.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "base/vec.h"

namespace align_test {

/// One case by its id. Stops the test when the file has none.
nlohmann::json worked_case(const std::string& id);

/// Numbers of the file, in mm, to metres; and directions as they are.
base::Vec2 pair_m(const nlohmann::json& mm);
base::Vec3 point_m(const nlohmann::json& mm);
base::Vec3 direction(const nlohmann::json& value);

}  // namespace align_test
