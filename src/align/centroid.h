// The middle of a whole facet's light is not where its centre ray lands: how far apart they are.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "align/observe.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

/// A facet and where its screws are thought to stand (displacements from nominal).
struct StandingFacet {
  std::size_t facet = 0;  ///< index into the dish
  std::array<double, 3> displacement_m{0.0, 0.0, 0.0};
};

/// Centroid less chief ray of each facet on the sighting's board, (right, up), by the quick
/// evaluation of light: finite sun, the facet's own surface, shading and blocking. A laser marks
/// the centre ray itself, and so does a look back into the facet's centre: offsets zero. Nothing
/// for a facet none of whose light, or whose centre ray, lands. Problems: a lamp (the quick
/// evaluation knows the sun only), a dish that cannot be lit.
base::Result<std::vector<std::optional<base::Vec2>>> centroid_offsets(
    const dish::Dish& dish, const Sighting& sighting, const std::vector<StandingFacet>& facets);

}  // namespace align
