// Shared parts of the layouts.
#include "dish/recipes_common.h"

#include <fmt/format.h>

#include "dish/recipes.h"

namespace dish {

using ranges::Quantity;

void judge(base::Problems& problems, Quantity quantity, double si) {
  if (const auto problem = ranges::problem_of(quantity, si, "layout")) problems.push_back(*problem);
}

void judge_frame(base::Problems& problems, const LayoutFrame& frame, double focal_length_m) {
  judge(problems, Quantity::focal_length, focal_length_m);
  if (const auto* flat = std::get_if<FlatFrame>(&frame))
    judge(problems, Quantity::frame_z, flat->z_m);
  if (const auto* sphere = std::get_if<SphericalFrame>(&frame))
    judge(problems, Quantity::frame_radius, sphere->radius_m);
}

base::Result<base::Vec3> place_on(const LayoutFrame& frame, double focal_length_m,
                                  const base::Vec2& xy_m) {
  const double radius = glm::length(xy_m);
  const std::optional<double> height = frame_height(frame, focal_length_m, radius);
  if (!height) {
    return base::Problem{
        "layout, frame_radius_m", fmt::format("{:.6g} m", std::get<SphericalFrame>(frame).radius_m),
        fmt::format("at least {:.6g} m: a facet lies that far from the axis", radius)};
  }
  const base::Vec3 centre{xy_m.x, xy_m.y, *height};
  for (const double coordinate : {centre.x, centre.y, centre.z}) {
    if (const auto problem = ranges::problem_of(Quantity::centre, coordinate, "layout"))
      return *problem;
  }
  if (radius == 0.0 && centre.z >= focal_length_m) {
    return base::Problem{"layout", fmt::format("a facet on the axis at z = {:.6g} m", centre.z),
                         fmt::format("facets below the focus at {:.6g} m", focal_length_m)};
  }
  return centre;
}

base::Result<std::vector<Facet>> counted(std::vector<Facet> facets) {
  if (facets.empty())
    return base::Problem{"layout", "no facets", "at least one: everything is left out"};
  if (facets.size() > k_most_facets)
    return base::Problem{"layout", fmt::format("{} facets", facets.size()),
                         fmt::format("at most {}", k_most_facets)};
  return facets;
}

}  // namespace dish
