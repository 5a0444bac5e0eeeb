// Doubts about a dish that only its screws' and its light's arithmetic can tell.
#pragma once

#include <vector>

#include "adjusters/preset.h"
#include "dish/checks.h"
#include "dish/dish.h"
#include "optics/trace_result.h"

namespace tasks {

/// Screws that stand beyond their travel, and springs that are slack, weak or solid there.
std::vector<dish::Finding> screw_doubts(const dish::Dish& dish);

/// Light that misses: facets whose spot's middle lies off the receiver or that get or give no
/// light; heavy shading and blocking; little of the light within the receiver's edge. A doubt
/// about many facets names the first and counts the rest.
std::vector<dish::Finding> light_doubts(const dish::Dish& dish, const optics::TraceResult& light);

}  // namespace tasks
