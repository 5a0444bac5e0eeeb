// What is wrong or doubtful about a dish, as far as it can be told without tracing light.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"

namespace dish {

enum class Severity {
  error,  ///< the dish cannot be worked with; no file or edit may bring it about
  doubt,  ///< it can, but a person should look
};

struct Finding {
  Severity severity = Severity::error;
  std::string place;     ///< "facet A3", "mount M6, screw 2", "round Monday": where to look
  std::string sentence;  ///< what is the matter there, for a maker
};

/// Everything found, in the order of the dish's parts: its errors or, when it has none, its doubts.
/// Where very many errors are of one kind, the first ones are named and the rest counted.
/// Never fails, whatever the dish holds (NaN, empty lists, names that nothing has).
std::vector<Finding> check(const Dish& dish);

/// The errors alone, as problems; empty when the dish can be worked with.
base::Problems errors_of(const Dish& dish);

/// One line: "facet A3: its mount has 2 adjusters; three are needed".
std::string to_line(const Finding& finding);

}  // namespace dish
