// The tilt is a rotation about x; the height follows from the lowest edge.
#include "page/yard/ground.h"

#include <algorithm>
#include <cmath>

namespace yard {
namespace {

constexpr double k_clearance_m = 0.30;
constexpr double k_pivot_behind = 0.12;  // of the reach

double reach_of(const optics::Scene& scene) {
  double reach = 0.1;
  for (const optics::SceneFacet& facet : scene.facets) {
    const double radius = scene.edges[facet.edge].bounding_radius_m;
    reach = std::max(reach, glm::length(base::Vec2(facet.dish_from_facet.origin)) + radius);
  }
  return reach;
}

}  // namespace

Ground stand_on_ground(const optics::Scene& scene) {
  const double up = std::sin(k_shown_elevation_rad);
  const double out = std::cos(k_shown_elevation_rad);
  Ground ground;
  ground.reach_m = reach_of(scene);
  ground.world_from_dish.axes = base::Mat3({1.0, 0.0, 0.0}, {0.0, up, out}, {0.0, -out, up});
  const base::Vec3 pivot_dish{0.0, 0.0, -k_pivot_behind * ground.reach_m};
  const double pivot_height = k_clearance_m + ground.reach_m * out + 0.5 * k_pivot_behind;
  ground.pivot_world = {0.0, 0.0, pivot_height};
  ground.world_from_dish.origin =
      ground.pivot_world - base::direction_to_outer(ground.world_from_dish, pivot_dish);
  ground.person_world = {ground.reach_m + 0.45, 0.9, 0.0};
  return ground;
}

}  // namespace yard
