// Layout: rings of petals, each a part of a ring between two radii.
#pragma once

#include <vector>

#include "base/result.h"
#include "dish/facet.h"
#include "dish/recipes_frame.h"

namespace dish {

struct PetalRing {
  double inner_radius_m = 0.3;
  double outer_radius_m = 0.6;
  int count = 12;
  double first_rad = 0.0;  ///< azimuth of the first petal's middle
  FacetTypeName type;      ///< each ring has a type of its own, for its outline
};

struct PetalsLayout {
  std::vector<PetalRing> rings{PetalRing{}};  ///< from the inside outward
  double gap_m = 0.01;  ///< least width between neighbours of a ring, in the aperture plane
  LayoutFrame frame = ParabolicFrame{};
  MountName mount;
};

/// Facets of the layout, ring by ring from the inside, each anticlockwise. The centre of a petal
/// lies half way between its radii; its clocking is its azimuth, so that its u axis points outward.
/// Ids: A1.. for the inner ring, B1.. for the next (after Z: AA).
/// Problems: options out of range, radii that do not grow outward, petals that the gap eats up,
/// more than k_most_facets, a frame that does not reach that far.
base::Result<std::vector<Facet>> lay_petals(const PetalsLayout& layout, double focal_length_m);

/// The outline of the petals of one ring (0-based). The opening is the widest that leaves `gap_m`
/// between neighbours everywhere in the aperture plane once each petal is tilted to send the sun
/// to the focus: tilting shortens a petal along its radius, which brings its outer corners closer
/// to its neighbours'. Source: derived (see the .cpp).
base::Result<AnnularSector> petal_outline(const PetalsLayout& layout, std::size_t ring,
                                          double focal_length_m);

}  // namespace dish
