// The look back: a screen at the receiver faces the dish, a camera far away sees it in the facets.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/vec.h"
#include "dish/dish.h"

namespace naming {

/// A facet as a camera sees it, thrown from the camera on the plane z = 0.
struct FacetInView {
  dish::FacetId facet;
  base::Vec2 plane_m{0.0, 0.0};  ///< its centre, right and up as seen from the sun
  double radius_m = 0.0;         ///< of a disc about the centre that is all mirror
};

/// All facets in the dish's order. Straight lines from the camera through the centres C meet z = 0
/// at K + (C - K) K_z / (K_z - C_z), so that a pinhole's picture of the centres is a projective map
/// of these places, whatever the facets' heights. Source: derived.
/// Problems: a camera that does not stand in front of all facets; an outline that is none.
base::Result<std::vector<FacetInView>> facets_seen_from(const dish::Dish& dish,
                                                        const base::Vec3& camera_m);

/// Where a screen stands: in the receiver's plane (nothing), or so far from it toward the facets.
/// On a dish with a secondary, which is taken off, at the prime focus or so far inside it.
std::optional<dish::Board> screen_board(const dish::Dish& dish, double before_m);

/// Where the camera may well stand: fifteen focal lengths away, on the axis.
base::Vec3 good_camera_m(const dish::Dish& dish);

/// The facet to point at next: the one farthest from those pointed at already, the first being the
/// outermost. Nothing when all are taken.
std::optional<std::size_t> next_to_point(const std::vector<FacetInView>& facets,
                                         const std::vector<dish::FacetId>& pointed);

}  // namespace naming
