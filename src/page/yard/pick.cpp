// A plane for each facet, then its outline.
#include "page/yard/pick.h"

#include <cmath>

#include "optics/outline.h"

namespace yard {

std::optional<Hit> pick_facet(const optics::Scene& scene, const base::Vec3& from_dish,
                              const base::Vec3& direction_dish) {
  std::optional<Hit> nearest;
  for (std::size_t i = 0; i < scene.facets.size(); ++i) {
    const base::Pose& pose = scene.facets[i].dish_from_facet;
    const double toward = glm::dot(direction_dish, pose.z());
    if (std::abs(toward) < 1e-6) continue;
    const double distance = glm::dot(pose.origin - from_dish, pose.z()) / toward;
    if (distance <= 0.0 || (nearest.has_value() && distance >= nearest->distance_m)) continue;
    const base::Vec3 place = base::point_to_inner(pose, from_dish + distance * direction_dish);
    if (!optics::is_inside(scene.edges[scene.facets[i].edge], place.x, place.y)) continue;
    nearest = Hit{i, distance};
  }
  return nearest;
}

}  // namespace yard
