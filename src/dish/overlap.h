// Facets in each other's way: centres that coincide, outlines that overlap as seen from the sun.
#pragma once

#include <utility>
#include <vector>

#include "dish/dish.h"

namespace dish {

/// Centres nearer than this are one place.
inline constexpr double k_same_place_m = 1e-6;

/// Two facets by their index in the dish, the first before the second.
using FacetPair = std::pair<std::size_t, std::size_t>;

/// Pairs of facets whose centres are nearer than a micrometre, at most `most` of them. Centres must
/// be finite. Sorted by x and swept, so that the cost grows little more than with the number.
std::vector<FacetPair> coinciding_centres(const Dish& dish, std::size_t most);

/// Pairs of facets whose outlines reach into each other by more than 0.1 mm, seen along the axis,
/// each facet tilted to its own normal or toward the focus; at most `most` of them. Such facets
/// shade one another or collide. The dish must be without errors. Facets whose type is not there
/// are passed over.
std::vector<FacetPair> overlapping_facets(const Dish& dish, std::size_t most);

}  // namespace dish
