// The frame a layout puts its facets on: how high a facet's centre lies over the aperture plane.
#pragma once

#include <optional>
#include <variant>

namespace dish {

struct FlatFrame {
  double z_m = 0.0;  ///< height of all centres above the vertex
};
/// On the parent paraboloid z = r^2 / (4 f) of the dish's focal length.
struct ParabolicFrame {};
/// On a sphere that touches the vertex from the sun's side.
struct SphericalFrame {
  double radius_m = 4.0;
};
using LayoutFrame = std::variant<FlatFrame, ParabolicFrame, SphericalFrame>;

/// Height of the frame at a distance `r_m` >= 0 from the axis; nothing where a sphere of this
/// radius does not reach (r > radius). The sphere's height is r^2 / (R + sqrt(R^2 - r^2)), which
/// keeps its digits near the axis where R - sqrt(R^2 - r^2) loses them.
std::optional<double> frame_height(const LayoutFrame& frame, double focal_length_m, double r_m);

}  // namespace dish
