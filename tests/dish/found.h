// What the checks find in the default dish after a change.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <string>

#include "dish/checks.h"
#include "dish/defaults.h"

namespace dish_test {

/// One line each; the test fails when any is of another severity.
inline std::string found(const std::function<void(dish::Dish&)>& change, dish::Severity severity) {
  dish::Dish dish = dish::default_dish();
  change(dish);
  std::string text;
  for (const dish::Finding& finding : dish::check(dish)) {
    CHECK(finding.severity == severity);
    CHECK_FALSE(finding.place.empty());
    CHECK_FALSE(finding.sentence.empty());
    text += dish::to_line(finding) + "\n";
  }
  CHECK((severity == dish::Severity::error) == !dish::errors_of(dish).empty());
  return text;
}

inline std::string errors(const std::function<void(dish::Dish&)>& change) {
  return found(change, dish::Severity::error);
}

inline std::string doubts(const std::function<void(dish::Dish&)>& change) {
  return found(change, dish::Severity::doubt);
}

inline std::size_t lines(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

}  // namespace dish_test
