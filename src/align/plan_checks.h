// What must hold of a round and a request before a plan is made of them.
#pragma once

#include <cstddef>
#include <map>
#include <vector>

#include "align/plan.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

/// Places of a dish's facets by id, and the spot that each has.
struct SpotRegister {
  std::map<dish::FacetId, std::size_t> facets;
  std::vector<const dish::Spot*> spots;  ///< null: none

  explicit SpotRegister(const dish::Dish& dish);
};

/// Enters the round's spots in the register. Problems: nothing observed, a board that faces
/// nowhere, a number of clicks outside 1..360, sigmas below zero, spots of facets that are not
/// there, two of one facet, and spots or sigmas that are no numbers.
base::Problems check_plan(const dish::Round& round, const PlanRequest& request,
                          SpotRegister& known);

}  // namespace align
