// Rays against the solids that only stop light, each in its own frame.
#include "optics/obstacle.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "optics/local_ray.h"

namespace optics {
namespace {

using base::Problem;
using base::Result;
using base::Vec3;

Problem no_size(const std::string& place, double size) {
  return {place, fmt::format("{} m", size), "a size above zero"};
}

Result<Obstacle> obstacle_of(const dish::DiscBlocker& disc, const std::string& place) {
  if (!(disc.diameter_m > 0.0)) return no_size(place, disc.diameter_m);
  if (!(glm::length(disc.normal) > 1e-9)) return Problem{place, "no normal", "a direction"};
  const base::Pose pose{disc.centre_m, base::frame_of_normal(base::unit(disc.normal))};
  return plate_obstacle(pose, true, base::Vec2(0.5 * disc.diameter_m));
}

Result<Obstacle> obstacle_of(const dish::BoxBlocker& box, const std::string& place) {
  const double least = std::min({box.size_m.x, box.size_m.y, box.size_m.z});
  if (!(least > 0.0)) return no_size(place, least);
  const Vec3 z = glm::cross(box.x, box.y);
  if (!(glm::length(box.x) > 1e-9 && glm::length(z) > 1e-9)) {
    return Problem{place, "parallel axes", "an x and a y axis that span a plane"};
  }
  const Vec3 ex = base::unit(box.x);
  const Vec3 ez = base::unit(z);
  const base::Pose pose{box.centre_m, base::Mat3(ex, glm::cross(ez, ex), ez)};
  const Vec3 half = 0.5 * box.size_m;
  return Obstacle{BoxObstacle{pose, half}, {box.centre_m, glm::length(half)}};
}

Result<Obstacle> obstacle_of(const dish::TubeBlocker& tube, const std::string& place) {
  const Vec3 along = tube.to_m - tube.from_m;
  const double length = glm::length(along);
  if (!(tube.diameter_m > 0.0)) return no_size(place, tube.diameter_m);
  if (!(length > 1e-9)) return no_size(place, length);
  const double radius = 0.5 * tube.diameter_m;
  const base::Pose pose{tube.from_m, base::frame_of_normal(along / length)};
  const Sphere bounds{0.5 * (tube.from_m + tube.to_m),
                      std::sqrt(0.25 * length * length + radius * radius)};
  return Obstacle{TubeObstacle{pose, radius, length}, bounds};
}

bool stops(const PlateObstacle& plate, const LocalRay& ray, double least, double most) {
  const double distance = -ray.origin.z / ray.direction.z;
  if (!(distance > least && distance < most)) return false;
  const double x = ray.origin.x + distance * ray.direction.x;
  const double y = ray.origin.y + distance * ray.direction.y;
  if (plate.is_round) return x * x + y * y <= plate.half_m.x * plate.half_m.x;
  return std::abs(x) <= plate.half_m.x && std::abs(y) <= plate.half_m.y;
}

/// Narrows [from, to] to where |origin + t direction| <= half; false when nothing is left.
bool clip_slab(double origin, double direction, double low, double high, double& from, double& to) {
  if (direction == 0.0) return origin >= low && origin <= high;
  const double a = (low - origin) / direction;
  const double b = (high - origin) / direction;
  from = std::max(from, std::min(a, b));
  to = std::min(to, std::max(a, b));
  return from <= to;
}

bool stops(const BoxObstacle& box, const LocalRay& ray, double least, double most) {
  for (int axis = 0; axis < 3; ++axis) {
    if (!clip_slab(ray.origin[axis], ray.direction[axis], -box.half_m[axis], box.half_m[axis],
                   least, most)) {
      return false;
    }
  }
  return true;
}

bool stops(const TubeObstacle& tube, const LocalRay& ray, double least, double most) {
  if (!clip_slab(ray.origin.z, ray.direction.z, 0.0, tube.length_m, least, most)) return false;
  const Vec3& o = ray.origin;
  const Vec3& d = ray.direction;
  const double a = d.x * d.x + d.y * d.y;
  const double b = o.x * d.x + o.y * d.y;
  const double c = o.x * o.x + o.y * o.y - tube.radius_m * tube.radius_m;
  if (a == 0.0) return c <= 0.0;
  const double discriminant = b * b - a * c;
  if (!(discriminant >= 0.0)) return false;
  const double root = std::sqrt(discriminant);
  return std::max(least, (-b - root) / a) <= std::min(most, (-b + root) / a);
}

const base::Pose& pose_of(const PlateObstacle& plate) { return plate.dish_from_plate; }
const base::Pose& pose_of(const BoxObstacle& box) { return box.dish_from_box; }
const base::Pose& pose_of(const TubeObstacle& tube) { return tube.dish_from_tube; }

}  // namespace

Result<Obstacle> make_obstacle(const dish::Blocker& blocker) {
  const std::string place = "blockers/" + blocker.name;
  return std::visit([&](const auto& shape) { return obstacle_of(shape, place); }, blocker.shape);
}

Obstacle plate_obstacle(const base::Pose& dish_from_plate, bool is_round,
                        const base::Vec2& half_m) {
  const double reach = is_round ? half_m.x : glm::length(half_m);
  return {PlateObstacle{dish_from_plate, is_round, half_m}, {dish_from_plate.origin, reach}};
}

bool is_stopped_by(const Obstacle& obstacle, const Vec3& origin, const Vec3& direction,
                   double least, double most) {
  if (!meets(obstacle.bounds, origin, direction)) return false;
  return std::visit(
      [&](const auto& shape) {
        return stops(shape, local_ray(pose_of(shape), origin, direction), least, most);
      },
      obstacle.shape);
}

}  // namespace optics
