// Edges of glass, plates and solids.
#include "optics/occluder.h"

#include <algorithm>
#include <cmath>

#include "optics/edge_distance.h"
#include "optics/local_ray.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

/// From a meeting in the plane of a pose: an outward step e in the plane counts as e - n
/// (e.d)/(n.d) square to the ray.
EdgeMeeting in_plane(const base::Pose& pose, const LocalRay& ray, double distance, double inside,
                     const Vec2& outward) {
  const double lean = (outward.x * ray.direction.x + outward.y * ray.direction.y) / ray.direction.z;
  return {distance, inside, outward.x * pose.x() + outward.y * pose.y() - lean * pose.z(),
          1.0 / std::abs(ray.direction.z)};
}

std::optional<double> distance_to_plane(const LocalRay& ray, double height) {
  const double distance = (height - ray.origin.z) / ray.direction.z;
  if (!(std::abs(distance) < 1e9)) return std::nullopt;
  return distance;
}

EdgeDistance disc_distance(double radius, const Vec2& at) {
  const double from_axis = std::sqrt(glm::dot(at, at));
  return {radius - from_axis, from_axis > 0.0 ? at / from_axis : Vec2(1.0, 0.0)};
}

std::optional<EdgeMeeting> meet(const PlateObstacle& plate, const Vec3& origin,
                                const Vec3& direction) {
  const LocalRay ray = local_ray(plate.dish_from_plate, origin, direction);
  const auto distance = distance_to_plane(ray, 0.0);
  if (!distance) return std::nullopt;
  const Vec2 at = ray.at(*distance);
  EdgeDistance edge = disc_distance(plate.half_m.x, at);
  if (!plate.is_round) {
    const double in_x = plate.half_m.x - std::abs(at.x);
    const double in_y = plate.half_m.y - std::abs(at.y);
    edge = in_x < in_y ? EdgeDistance{in_x, {at.x < 0.0 ? -1.0 : 1.0, 0.0}}
                       : EdgeDistance{in_y, {0.0, at.y < 0.0 ? -1.0 : 1.0}};
  }
  return in_plane(plate.dish_from_plate, ray, *distance, edge.distance_m, edge.outward);
}

/// The nearest of pairs of parallel edges of a silhouette about a middle.
class Silhouette {
 public:
  Silhouette(const Vec3& middle, const Vec3& origin, const Vec3& direction)
      : distance_(glm::dot(middle - origin, direction)) {
    way_ = origin + distance_ * direction - middle;
    meeting_ = {distance_, HUGE_VAL, Vec3(0.0)};
  }

  /// A unit vector square to the ray, and how far the silhouette reaches along it both ways.
  void take(const Vec3& across, double reach) {
    const double along = glm::dot(way_, across);
    const double inside = reach - std::abs(along);
    if (inside < meeting_.inside_m) {
      meeting_ = {distance_, inside, along < 0.0 ? -across : across};
    }
  }
  [[nodiscard]] const EdgeMeeting& nearest() const { return meeting_; }

 private:
  double distance_;
  Vec3 way_{0.0};
  EdgeMeeting meeting_;
};

std::optional<EdgeMeeting> meet(const BoxObstacle& box, const Vec3& origin, const Vec3& direction) {
  const base::Pose& pose = box.dish_from_box;
  Silhouette silhouette(pose.origin, origin, direction);
  for (int axis = 0; axis < 3; ++axis) {
    // Edges along this axis bound the silhouette square to its projection.
    const Vec3 square = glm::cross(pose.axes[axis], direction);
    const double length = glm::length(square);
    if (length < 1e-9) continue;
    const Vec3 across = square / length;
    double reach = 0.0;
    for (int k = 0; k < 3; ++k) {
      reach += box.half_m[k] * std::abs(glm::dot(pose.axes[k], across));
    }
    silhouette.take(across, reach);
  }
  return silhouette.nearest();
}

std::optional<EdgeMeeting> meet(const TubeObstacle& tube, const Vec3& origin,
                                const Vec3& direction) {
  const Vec3 along = tube.dish_from_tube.z();
  const Vec3 middle = tube.dish_from_tube.origin + 0.5 * tube.length_m * along;
  Silhouette silhouette(middle, origin, direction);
  const Vec3 square = glm::cross(along, direction);
  const double sine = glm::length(square);
  if (sine > 1e-9) {
    silhouette.take(square / sine, tube.radius_m);
    const double cosine = std::sqrt(std::max(1.0 - sine * sine, 0.0));
    silhouette.take(glm::cross(direction, square) / sine,
                    0.5 * tube.length_m * sine + tube.radius_m * cosine);
    return silhouette.nearest();
  }
  const base::Mat3 frame = base::frame_of_normal(direction);
  const Vec3 way = origin - middle - glm::dot(origin - middle, direction) * direction;
  const double length = glm::length(way);
  silhouette.take(length > 1e-12 ? way / length : frame[0], tube.radius_m);
  return silhouette.nearest();
}

std::optional<EdgeMeeting> meet_facet(const Scene& scene, const SceneFacet& facet,
                                      const Vec3& origin, const Vec3& direction) {
  const LocalRay ray = local_ray(facet.dish_from_facet, origin, direction);
  const Hits hits = intersect(facet.surface, ray.origin, ray.direction);
  const Edge& edge = scene.edges[facet.edge];
  std::optional<EdgeMeeting> best;
  for (int k = 0; k < hits.count; ++k) {
    const double distance = hits.distance[static_cast<std::size_t>(k)];
    const EdgeDistance near = edge_distance(edge, ray.at(distance));
    if (best && best->inside_m >= near.distance_m) continue;
    best = in_plane(facet.dish_from_facet, ray, distance, near.distance_m, near.outward);
  }
  return best;
}

std::optional<EdgeMeeting> meet_secondary(const SecondaryMirror& mirror, const Vec3& origin,
                                          const Vec3& direction) {
  const LocalRay ray = local_ray(mirror.dish_from_secondary, origin, direction);
  const auto distance = distance_to_plane(ray, sag(mirror.surface, mirror.rim_radius_m, 0.0));
  if (!distance) return std::nullopt;
  EdgeDistance edge = disc_distance(mirror.rim_radius_m, ray.at(*distance));
  const double from_hole = mirror.rim_radius_m - edge.distance_m - mirror.hole_radius_m;
  if (mirror.hole_radius_m > 0.0 && from_hole < edge.distance_m) {
    edge = {from_hole, -edge.outward};
  }
  return in_plane(mirror.dish_from_secondary, ray, *distance, edge.distance_m, edge.outward);
}

}  // namespace

std::optional<EdgeMeeting> meet_edge(const Scene& scene, std::uint32_t code, const Vec3& origin,
                                     const Vec3& direction) {
  if (code == scene.secondary_code()) return meet_secondary(*scene.secondary, origin, direction);
  if (code < scene.facets.size()) {
    return meet_facet(scene, scene.facets[code], origin, direction);
  }
  return std::visit([&](const auto& shape) { return meet(shape, origin, direction); },
                    scene.obstacles[code - scene.facets.size()].shape);
}

const Sphere& bounds_of_candidate(const Scene& scene, std::uint32_t code) {
  if (code == scene.secondary_code()) return scene.secondary_bounds;
  if (code < scene.facets.size()) return scene.facets[code].bounds;
  return scene.obstacles[code - scene.facets.size()].bounds;
}

}  // namespace optics
