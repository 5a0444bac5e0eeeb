// Heights of the three frames.
#include "dish/recipes_frame.h"

#include <cmath>

namespace dish {

std::optional<double> frame_height(const LayoutFrame& frame, double focal_length_m, double r_m) {
  if (const auto* flat = std::get_if<FlatFrame>(&frame)) return flat->z_m;
  if (std::holds_alternative<ParabolicFrame>(frame)) return r_m * r_m / (4.0 * focal_length_m);
  const double radius = std::get<SphericalFrame>(frame).radius_m;
  if (!(r_m <= radius)) return std::nullopt;
  return r_m * r_m / (radius + std::sqrt((radius - r_m) * (radius + r_m)));
}

}  // namespace dish
