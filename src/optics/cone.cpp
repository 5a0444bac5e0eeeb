// Finite differences about chief rays.
#include "optics/cone.h"

#include <cmath>

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

constexpr Tests k_no_tests{.shading = false, .blocking = false, .rim = false};

/// Axes square to a ray: in the plane of incidence, and across it.
struct RayAxes {
  Vec3 in_plane;
  Vec3 across;
};

RayAxes axes_about(const Vec3& ray, const Vec3& normal) {
  const Vec3 across = glm::cross(ray, normal);
  const double length = glm::length(across);
  if (length < 1e-9) {
    const base::Mat3 frame = base::frame_of_normal(ray);
    return {frame[0], frame[1]};
  }
  return {glm::cross(across, ray) / length, across / length};
}

double square(double x) { return x * x; }

/// A pair of rays to both sides of the chief: half their difference and their mean's offset.
struct Pair {
  bool lands = false;
  Vec2 half_difference{0.0, 0.0};
  Vec2 even_part{0.0, 0.0};
};

Pair pair_of(const Path& plus, const Path& minus, const Vec2& chief) {
  if (plus.end != End::landed || minus.end != End::landed) return {};
  return {true, 0.5 * (plus.board - minus.board), 0.5 * (plus.board + minus.board) - chief};
}

Pair turn_pair(const Scene& scene, const SceneFacet& facet, const Cone& cone, const Vec3& leaving,
               const Vec3& axis, double angle) {
  const auto turned = [&](double way) {
    const Vec3 direction = base::unit(leaving + way * angle * axis);
    return go_on(scene, facet, cone.chief.facet_point, direction, {}, k_no_tests);
  };
  return pair_of(turned(1.0), turned(-1.0), cone.chief.board);
}

Pair place_pair(const Scene& scene, const SceneFacet& facet, const Cone& cone, const Vec2& uv,
                const Vec2& step) {
  Path plus;
  Path minus;
  land_chief(scene, facet, uv + step, plus);
  land_chief(scene, facet, uv - step, minus);
  return pair_of(plus, minus, cone.chief.board);
}

/// Spread by the secondary's own errors: over the last stretch, by closed form.
void add_secondary_errors(const Scene& scene, Cone& cone) {
  const SecondaryMirror& mirror = *scene.secondary;
  const double slope2 = 4.0 * square(mirror.slope_error_rad);
  const double spec2 = square(mirror.specularity_error_rad);
  if (slope2 + spec2 == 0.0) return;
  const base::Pose& board = scene.receiver.dish_from_board;
  const Vec3 ray = cone.chief.last_direction;
  const Vec3 came = base::unit(cone.chief.secondary_point - cone.chief.facet_point);
  const Vec3 normal = base::unit(ray - came);
  const double cosine = glm::dot(ray, normal);
  const RayAxes axes = axes_about(ray, normal);
  const double approach = glm::dot(ray, board.z());
  const double length = glm::dot(board.origin - cone.chief.secondary_point, board.z()) / approach;
  const auto add = [&](const Vec3& axis, double variance) {
    const Vec3 moved = length * (axis - (glm::dot(axis, board.z()) / approach) * ray);
    cone.errors.add_square(std::sqrt(variance) *
                           Vec2(glm::dot(moved, board.x()), glm::dot(moved, board.y())));
  };
  add(axes.in_plane, slope2 + spec2);
  add(axes.across, slope2 * square(cosine) + spec2);
}

}  // namespace

bool land_chief(const Scene& scene, const SceneFacet& facet, const Vec2& uv, Path& path) {
  const FacetPoint start = facet_point(scene, facet, uv);
  if (!std::isfinite(start.point.z)) return false;
  path = follow(scene, facet, start, scene.sun, {}, k_no_tests);
  return path.end == End::landed;
}

Cone cone_of(const Scene& scene, const SceneFacet& facet, const FacetNode& node) {
  Cone cone;
  const FacetPoint start = facet_point(scene, facet, node.uv);
  const Vec3 normal = base::direction_to_outer(facet.dish_from_facet, start.normal);
  const double cosine = glm::dot(normal, scene.sun);
  if (!(cosine > 0.0)) return cone;
  cone.watts =
      scene.dni_W_m2 * scene.edges[facet.edge].area_m2 * node.share * cosine / start.normal.z;
  cone.chief = follow(scene, facet, start, scene.sun, {}, k_no_tests);
  if (cone.chief.end != End::landed) return cone;
  cone.lands = true;
  cone.centre = cone.chief.board;

  // Turn the reflected ray by one standard deviation each way, in and across the plane of
  // incidence.
  const Vec3 leaving = base::reflect(-scene.sun, normal);
  const RayAxes axes = axes_about(leaving, normal);
  const double sun2 = scene.sun_profile.variance;
  const double slope2 = 4.0 * square(facet.slope_error_rad);
  const double spec2 = square(facet.specularity_error_rad);
  const auto spread_angle = [&](const Vec3& axis, double error2) {
    const double deviation = std::max(std::sqrt(sun2 + error2), 1e-6);
    const Pair pair = turn_pair(scene, facet, cone, leaving, axis, deviation);
    if (!pair.lands) return;
    const Vec2 per_rad = pair.half_difference / deviation;
    cone.centre += pair.even_part * (square(std::sqrt(sun2 + error2) / deviation));
    cone.sun.add_square(std::sqrt(sun2) * per_rad);
    cone.errors.add_square(std::sqrt(error2) * per_rad);
  };
  spread_angle(axes.in_plane, slope2 + spec2);
  spread_angle(axes.across, slope2 * square(cosine) + spec2);
  if (scene.secondary) add_secondary_errors(scene, cone);

  // Step by one standard deviation of the piece along its principal axes.
  const double mean = 0.5 * (node.uu + node.vv);
  const double half = 0.5 * (node.uu - node.vv);
  const double reach = std::hypot(half, node.uv_cross);
  const double angle = reach > 1e-12 * mean ? 0.5 * std::atan2(node.uv_cross, half) : 0.0;
  const Vec2 axis{std::cos(angle), std::sin(angle)};
  for (const Vec2& step : {std::sqrt(mean + reach) * axis,
                           std::sqrt(std::max(mean - reach, 0.0)) * Vec2(-axis.y, axis.x)}) {
    const Pair pair = place_pair(scene, facet, cone, node.uv, step);
    if (!pair.lands) continue;
    cone.centre += pair.even_part;
    cone.piece.add_square(pair.half_difference);
  }
  return cone;
}

}  // namespace optics
