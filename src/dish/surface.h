// The form of a facet's reflecting surface, as sag along its own normal. Concave mirrors have
// positive curvature: their edges bend toward the sun.
#pragma once

#include <optional>
#include <variant>

namespace dish {

struct Flat {};

/// Radius of curvature; negative for a convex mirror.
struct Spherical {
  double radius_m = 4.0;
};

/// A paraboloid whose own vertex is the facet's centre.
struct Paraboloid {
  double focal_length_m = 2.0;
};

/// A piece of a parent paraboloid, seen from the facet. The facet's centre lies `off_axis_m` from
/// the parent's axis, in the direction `meridian_rad` (from the facet's u axis, pointing away from
/// the parent's axis). What is left out is taken from the facet's own place in the dish.
struct OffAxisParaboloid {
  double focal_length_m = 2.0;
  std::optional<double> off_axis_m;
  std::optional<double> meridian_rad;
};

using Surface = std::variant<Flat, Spherical, Paraboloid, OffAxisParaboloid>;

}  // namespace dish
