// As much of JSON Schema 2020-12 as web/dish.schema.json uses.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace schema {

/// Where `value` does not fit the schema: "facets/0/centre_mm: ..." lines; empty when it fits.
/// Stops the test program at a keyword it does not know, so that nothing is passed over.
std::vector<std::string> misfits(const nlohmann::json& root, const nlohmann::json& value);

}  // namespace schema
