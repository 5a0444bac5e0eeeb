// In which order a person goes from facet to facet, so that the ladder is moved little.
#pragma once

#include <vector>

#include "dish/dish.h"

namespace align {

enum class WorkOrder {
  rows,   ///< from the bottom row up, each row the other way
  rings,  ///< around ring by ring from the inside out, each from the bottom
};

/// The ids in working order. Rows start at the left of someone who stands on `side` and faces the
/// dish with its axis near the horizon; rings go around anticlockwise for that person. Facets whose
/// centres differ in height (distance from the axis) by less than three quarters of the dish's
/// smallest facet radius share a row (ring). Ids that the dish does not have are left out; each id
/// comes once.
std::vector<dish::FacetId> work_order(const dish::Dish& dish, const std::vector<dish::FacetId>& ids,
                                      dish::Side side, WorkOrder order = WorkOrder::rows);

}  // namespace align
