// Facets as messages name them.
#pragma once

#include <string>

#include "base/result.h"
#include "dish/dish.h"

namespace tasks {

/// "there is no such facet", with the closest id that the dish does have. `place` is the setting
/// or the row that named it.
base::Problem unknown_facet(const dish::Dish& dish, const dish::FacetId& id,
                            const std::string& place);

}  // namespace tasks
