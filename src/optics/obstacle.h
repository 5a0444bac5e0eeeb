// Things that only stop light: plates (the receiver's back), discs, boxes and tubes.
#pragma once

#include <string>
#include <variant>

#include "base/result.h"
#include "base/vec.h"
#include "dish/optics_parts.h"

namespace optics {

struct Sphere {
  base::Vec3 centre{0.0};
  double radius = 0.0;
};

/// A flat disc or rectangle in the x, y plane of its pose, stopping light from both sides.
struct PlateObstacle {
  base::Pose dish_from_plate;
  bool is_round = true;
  base::Vec2 half_m{0.0, 0.0};  ///< radius twice, or half width and half height
};
/// A solid box about the origin of its pose.
struct BoxObstacle {
  base::Pose dish_from_box;
  base::Vec3 half_m{0.0};
};
/// A solid round tube along z of its pose, from z = 0 to its length.
struct TubeObstacle {
  base::Pose dish_from_tube;
  double radius_m = 0.0;
  double length_m = 0.0;
};

struct Obstacle {
  std::variant<PlateObstacle, BoxObstacle, TubeObstacle> shape;
  Sphere bounds;
};

/// Problems name the blocker: no size, no direction, a box whose axes are parallel.
base::Result<Obstacle> make_obstacle(const dish::Blocker& blocker);

Obstacle plate_obstacle(const base::Pose& dish_from_plate, bool is_round, const base::Vec2& half_m);

/// Whether a ray is stopped between two distances. A start inside a solid counts as stopped.
bool is_stopped_by(const Obstacle& obstacle, const base::Vec3& origin, const base::Vec3& direction,
                   double least, double most);

/// Whether a ray passes within the sphere at or after its start.
inline bool meets(const Sphere& sphere, const base::Vec3& origin, const base::Vec3& direction) {
  const base::Vec3 to_centre = sphere.centre - origin;
  const double along = glm::dot(to_centre, direction);
  const double square = glm::dot(to_centre, to_centre);
  const double radius2 = sphere.radius * sphere.radius;
  if (along < 0.0 && square > radius2) return false;
  return square - along * along <= radius2;
}

}  // namespace optics
