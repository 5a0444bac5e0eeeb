#include "cases.h"

#include <doctest/doctest.h>

#include "support/paths.h"

namespace align_test {

nlohmann::json worked_case(const std::string& id) {
  static const std::string k_path = "tests/references/align/alignment-cases.json";
  const auto all = nlohmann::json::parse(support::read_whole_file(support::source_path(k_path)));
  for (const auto& one : all.at("cases")) {
    if (one.at("id") == id) return one;
  }
  FAIL("no worked case " << id);
  return {};
}

base::Vec2 pair_m(const nlohmann::json& mm) {
  return {mm.at(0).get<double>() / 1e3, mm.at(1).get<double>() / 1e3};
}

base::Vec3 direction(const nlohmann::json& value) {
  return {value.at(0).get<double>(), value.at(1).get<double>(), value.at(2).get<double>()};
}

base::Vec3 point_m(const nlohmann::json& mm) { return direction(mm) / 1e3; }

}  // namespace align_test
