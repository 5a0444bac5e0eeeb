// The edge of a mirror, in the tangent plane (u, v) of its own frame, with the facet's centre at
// the origin unless said otherwise.
#pragma once

#include <variant>
#include <vector>

#include "base/vec.h"

namespace dish {

/// Regular hexagon; two of its flats cross the u axis (corners at 30, 90, ... degrees).
struct Hexagon {
  double across_flats_m = 0.23;
};

struct Rectangle {
  double width_m = 0.2;   ///< along u
  double height_m = 0.2;  ///< along v
};

struct Disc {
  double diameter_m = 0.2;
};

/// Part of a ring between two radii about a point on the -u axis: a petal. The facet's centre is
/// the point half way between the radii, on the u axis, which points outward.
struct AnnularSector {
  double inner_radius_m = 0.3;
  double outer_radius_m = 0.6;
  double opening_rad = 0.5;  ///< whole angle between the straight edges
};

/// Any convex outline, corners anticlockwise as seen from the sun.
struct Polygon {
  std::vector<base::Vec2> corners_m;
};

using Outline = std::variant<Hexagon, Rectangle, Disc, AnnularSector, Polygon>;

}  // namespace dish
