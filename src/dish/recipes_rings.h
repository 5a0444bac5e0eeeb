// Layout: hexagonal rings of facets on a triangular lattice around the axis.
#pragma once

#include <vector>

#include "base/result.h"
#include "dish/facet.h"
#include "dish/recipes_frame.h"

namespace dish {

struct RingsLayout {
  int rings = 3;                 ///< number of the outermost ring; the centre is ring 0
  std::vector<int> left_out{0};  ///< rings without facets
  double pitch_m = 0.25;         ///< distance between neighbours' centres, in the aperture plane
  LayoutFrame frame = ParabolicFrame{};
  FacetTypeName type;
  MountName mount;
};

/// Facets of the layout, ring by ring, each ring anticlockwise from +x as seen from the sun.
/// Ring n > 0 has 6 n facets; neighbours lie at 0, 60, ... degrees, so that hexagons (whose flats
/// cross the u axis) face each other flat to flat. Ids: A1..A6, B1..B12, ... (after Z: AA, AB);
/// the facet at the centre is A0. Clocking is zero: see DEVELOPERS.md, frames.
/// Problems: options out of range, a ring left out that is not there, nothing left, more than
/// k_most_facets, a frame that does not reach that far.
base::Result<std::vector<Facet>> lay_rings(const RingsLayout& layout, double focal_length_m);

}  // namespace dish
