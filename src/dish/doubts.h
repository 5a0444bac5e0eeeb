// What a person should look at in a dish that has no errors. Part of dish/checks.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "dish/checks.h"

namespace dish {

/// "facet A1", "facets A1, A2 and A3", "facets A1, A2, A3 and 33 more". `ids` must not be empty.
std::string places_of(const std::vector<FacetId>& ids);

inline void add_doubt(std::vector<Finding>& findings, std::string place, std::string sentence) {
  findings.push_back({Severity::doubt, std::move(place), std::move(sentence)});
}

/// Screws and springs: facets without a mount, screws beyond their travel, screws that cannot
/// move, springs that go slack or solid within the travel or stand so now, screws beyond the
/// edge of a facet.
std::vector<Finding> mount_doubts(const Dish& dish);

/// Shapes and light: facets that overlap, polygons whose centre lies outside, aim points beside the
/// receiver, a receiver away from the focus or turned away, a secondary that does not fit the
/// focus or the receiver.
std::vector<Finding> layout_doubts(const Dish& dish);

/// Rounds: turns of screws whose label is no longer there.
std::vector<Finding> round_doubts(const Dish& dish);

}  // namespace dish
