// Shade, reflect, block, reflect again, block again, land.
#include "optics/path.h"

#include <cmath>

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

bool is_any_in_the_way(const Scene& scene, const Span& span, const Vec3& origin,
                       const Vec3& direction, double most) {
  for (std::uint32_t k = 0; k < span.count; ++k) {
    if (is_stopped_by(scene, scene.candidates[span.first + k], origin, direction, k_start_m,
                      most)) {
      return true;
    }
  }
  return false;
}

/// Facets in the way of the last stretch: looked up where it crosses the layer they lie in.
bool is_facet_in_the_way(const Scene& scene, const Vec3& origin, const Vec3& direction,
                         double most) {
  double enter = 0.0;
  double leave = most;
  if (std::abs(direction.z) > 1e-12) {
    const double a = (scene.grid.top() - origin.z) / direction.z;
    const double b = (scene.grid.bottom() - origin.z) / direction.z;
    enter = std::max(enter, std::min(a, b));
    leave = std::min(leave, std::max(a, b));
  } else if (origin.z > scene.grid.top() || origin.z < scene.grid.bottom()) {
    return false;
  }
  if (!(enter < leave)) return false;
  const Vec3 first = origin + enter * direction;
  const Vec3 last = origin + leave * direction;
  const Vec2 low{std::min(first.x, last.x), std::min(first.y, last.y)};
  const Vec2 high{std::max(first.x, last.x), std::max(first.y, last.y)};
  return scene.grid.any_of(low, high, [&](std::uint32_t facet) {
    return is_stopped_by(scene, facet, origin, direction, k_start_m, most);
  });
}

/// Distance to the receiver's plane when the ray arrives on its lit side; negative when never.
double distance_to_plane(const Scene& scene, const Vec3& origin, const Vec3& direction) {
  const base::Pose& board = scene.receiver.dish_from_board;
  const double approach = glm::dot(direction, board.z());
  if (!(approach < -1e-12)) return -1.0;
  return glm::dot(board.origin - origin, board.z()) / approach;
}

/// The last stretch, after the secondary or, without one, straight from the facet.
void land(const Scene& scene, const Vec3& origin, const Vec3& direction, Path& path) {
  const double distance = distance_to_plane(scene, origin, direction);
  if (!(distance > k_start_m)) {
    path.end = End::lost;
    return;
  }
  const base::Pose& board = scene.receiver.dish_from_board;
  const Vec3 from_centre = origin + distance * direction - board.origin;
  path.board = {glm::dot(from_centre, board.x()), glm::dot(from_centre, board.y())};
  path.end = End::landed;
}

bool is_blocked_after_secondary(const Scene& scene, const Vec3& origin, const Vec3& direction,
                                double most) {
  if (!scene.has_blocking) return false;
  // The receiver itself, first among the obstacles when it shades, is the target here.
  for (std::size_t k = scene.receiver_shades ? 1 : 0; k < scene.obstacles.size(); ++k) {
    if (is_stopped_by(scene.obstacles[k], origin, direction, k_start_m, most)) return true;
  }
  return is_facet_in_the_way(scene, origin, direction, most);
}

/// Just short of the target, so that what touches it does not count as in its way.
double short_of(double distance) { return distance * (1.0 - 1e-12) - 1e-9; }

void go_by_secondary(const Scene& scene, const SceneFacet& facet, const Vec3& direction,
                     const Turns& turns, const Tests& tests, Path& path) {
  const SecondaryMirror& mirror = *scene.secondary;
  const auto hit = hit_mirror_side(mirror, path.facet_point, direction, k_start_m);
  const bool is_on_glass = hit && hit->rim_distance_m <= mirror.rim_radius_m &&
                           hit->rim_distance_m >= mirror.hole_radius_m;
  if (tests.blocking && is_any_in_the_way(scene, facet.blockers, path.facet_point, direction,
                                          is_on_glass ? short_of(hit->distance) : k_far_m)) {
    path.end = End::blocked;
    return;
  }
  if (!hit || (tests.rim && !is_on_glass)) {
    path.end = End::missed_secondary;
    return;
  }
  path.met_secondary = true;
  path.secondary_point = hit->point;
  const Vec3 normal = tilted(hit->normal, turns.secondary_slope);
  path.last_direction = tilted(base::reflect(direction, normal), turns.secondary_specularity);
  land(scene, hit->point, path.last_direction, path);
  if (path.end != End::landed || !tests.blocking) return;
  const double distance = distance_to_plane(scene, hit->point, path.last_direction);
  if (is_blocked_after_secondary(scene, hit->point, path.last_direction, short_of(distance))) {
    path.end = End::blocked;
  }
}

}  // namespace

bool is_facet_before_receiver(const Scene& scene, const Vec3& point, const Vec3& direction) {
  const double distance = distance_to_plane(scene, point, direction);
  return is_facet_in_the_way(scene, point, direction, short_of(distance));
}

Vec3 tilted(const Vec3& n, const Vec2& turn) {
  if (turn.x == 0.0 && turn.y == 0.0) return n;
  // Two axes square to n without a branch on its size.
  // Source: Duff et al., "Building an Orthonormal Basis, Revisited", JCGT 6(1), 2017.
  const double sign = n.z >= 0.0 ? 1.0 : -1.0;
  const double a = -1.0 / (sign + n.z);
  const double b = n.x * n.y * a;
  const Vec3 ex{1.0 + sign * n.x * n.x * a, sign * b, -sign * n.x};
  const Vec3 ey{b, sign + n.y * n.y * a, -n.y};
  const Vec3 t = n + turn.x * ex + turn.y * ey;
  return t * (1.0 / std::sqrt(1.0 + turn.x * turn.x + turn.y * turn.y));
}

FacetPoint facet_point(const Scene& scene, const SceneFacet& facet, const Vec2& uv) {
  const Vec3 point{uv.x, uv.y, sag(facet.surface, uv.x, uv.y)};
  const Vec3 normal = normal_at(facet.surface, point);
  if (facet.form == k_no_form) return {point, normal};
  // The slopes of both surfaces add, as their heights do.
  const FormOffset offset =
      form_offset(scene.forms[facet.form], scene.edges[facet.edge], uv.x, uv.y);
  const Vec3 up{normal.x / normal.z - offset.slope_u, normal.y / normal.z - offset.slope_v, 1.0};
  return {{uv.x, uv.y, point.z + offset.height_m}, up * (1.0 / std::sqrt(glm::dot(up, up)))};
}

Path follow(const Scene& scene, const SceneFacet& facet, const FacetPoint& start, const Vec3& sun,
            const Turns& turns, const Tests& tests) {
  Path path;
  path.facet_point = base::point_to_outer(facet.dish_from_facet, start.point);
  if (tests.shading && is_any_in_the_way(scene, facet.shaders, path.facet_point, sun, k_far_m)) {
    path.end = End::shaded;
    return path;
  }
  // Reflect off the tilted normal, then spread by specularity.
  const Vec3 normal =
      base::direction_to_outer(facet.dish_from_facet, tilted(start.normal, turns.slope));
  const Vec3 direction = tilted(base::reflect(-sun, normal), turns.specularity);
  return go_on(scene, facet, path.facet_point, direction, turns, tests);
}

Path go_on(const Scene& scene, const SceneFacet& facet, const Vec3& point, const Vec3& direction,
           const Turns& turns, const Tests& tests) {
  Path path;
  path.facet_point = point;
  path.last_direction = direction;
  if (scene.secondary) {
    go_by_secondary(scene, facet, direction, turns, tests, path);
    return path;
  }
  land(scene, path.facet_point, direction, path);
  if (!tests.blocking) return path;
  const double most = path.end == End::landed
                          ? short_of(distance_to_plane(scene, path.facet_point, direction))
                          : k_far_m;
  if (is_any_in_the_way(scene, facet.blockers, path.facet_point, direction, most)) {
    path.end = End::blocked;
  }
  return path;
}

}  // namespace optics
