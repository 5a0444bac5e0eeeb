// From the few numbers a person gives about a secondary to a surface that light can meet.
#include "optics/secondary_mirror.h"

#include <fmt/format.h>

#include <cmath>

#include "optics/coating.h"

namespace optics {
namespace {

using base::Problem;
using base::Result;

base::Pose pose_of(const dish::Secondary& secondary) {
  const double cx = std::cos(secondary.tilt_rad.x);
  const double sx = std::sin(secondary.tilt_rad.x);
  const double cy = std::cos(secondary.tilt_rad.y);
  const double sy = std::sin(secondary.tilt_rad.y);
  // Columns of Ry(ty) Rx(tx).
  const base::Vec3 x{cy, 0.0, -sy};
  const base::Vec3 y{sy * sx, cx, cy * sx};
  const base::Vec3 z{sy * cx, -sx, cy * cx};
  return {secondary.vertex_m, base::Mat3(x, -y, -z)};
}

struct Form {
  Quadric surface;
  bool is_flat = false;
  std::optional<double> near_focus_w;  ///< on its own axis, + toward the facets
  std::optional<double> far_focus_w;
};

Result<Form> form_of(const dish::FlatSecondary&, double) { return Form{.is_flat = true}; }

Result<Form> form_of(const dish::SphereSecondary& sphere, double) {
  if (!(std::abs(sphere.radius_m) > 1e-6)) {
    return Problem{"secondary/radius_m", fmt::format("{}", sphere.radius_m),
                   "a radius that is not zero"};
  }
  return Form{.surface = conic_quadric(-1.0 / sphere.radius_m, 0.0)};
}

Result<Form> form_of(const dish::ParaboloidSecondary& paraboloid, double) {
  if (!(std::abs(paraboloid.focal_length_m) > 1e-6)) {
    return Problem{"secondary/focal_length_m", fmt::format("{}", paraboloid.focal_length_m),
                   "a focal length that is not zero"};
  }
  return Form{.surface = conic_quadric(-0.5 / paraboloid.focal_length_m, -1.0)};
}

Result<Form> form_of(const dish::HyperboloidSecondary& conic, double vertex_z) {
  const double p = conic.near_focus_z_m - vertex_z;
  const double q = vertex_z - conic.far_focus_z_m;
  if (!(p > 1e-6)) {
    return Problem{"secondary/near_focus_z_m", fmt::format("{}", conic.near_focus_z_m),
                   fmt::format("a focus beyond the secondary's vertex at z = {} m", vertex_z)};
  }
  if (!(q > 1e-6)) {
    return Problem{"secondary/far_focus_z_m", fmt::format("{}", conic.far_focus_z_m),
                   fmt::format("a focus below the secondary's vertex at z = {} m", vertex_z)};
  }
  if (!(std::abs(q - p) > 1e-6 * (q + p))) {
    return Problem{"secondary/vertex_m", fmt::format("{}", vertex_z),
                   "a vertex nearer to one focus than to the other; half way it is a flat"};
  }
  const double e = (q + p) / (q - p);
  return Form{.surface = conic_quadric(-(q - p) / (2.0 * p * q), -e * e),
              .near_focus_w = -p,
              .far_focus_w = q};
}

Result<Form> form_of(const dish::EllipsoidSecondary& conic, double vertex_z) {
  const double p = vertex_z - conic.near_focus_z_m;
  const double q = vertex_z - conic.far_focus_z_m;
  if (!(p > 1e-6)) {
    return Problem{"secondary/near_focus_z_m", fmt::format("{}", conic.near_focus_z_m),
                   fmt::format("a focus below the secondary's vertex at z = {} m", vertex_z)};
  }
  if (!(q > 1e-6)) {
    return Problem{"secondary/far_focus_z_m", fmt::format("{}", conic.far_focus_z_m),
                   fmt::format("a focus below the secondary's vertex at z = {} m", vertex_z)};
  }
  const double e = (q - p) / (q + p);
  return Form{.surface = conic_quadric((q + p) / (2.0 * p * q), -e * e),
              .near_focus_w = p,
              .far_focus_w = q};
}

}  // namespace

Result<SecondaryMirror> secondary_mirror(const dish::Secondary& secondary) {
  const auto form = std::visit(
      [&](const auto& kind) { return form_of(kind, secondary.vertex_m.z); }, secondary.form);
  if (!form) return form.problems();

  SecondaryMirror mirror;
  mirror.dish_from_secondary = pose_of(secondary);
  mirror.surface = form.value().surface;
  mirror.is_flat = form.value().is_flat;
  mirror.rim_radius_m = 0.5 * secondary.diameter_m;
  mirror.hole_radius_m = 0.5 * secondary.hole_diameter_m;
  mirror.reflectance =
      MirrorReflectance(secondary.reflectance, secondary.coating, secondary.cleanliness).at(1.0);
  mirror.slope_error_rad = secondary.slope_error_rad;
  mirror.specularity_error_rad = secondary.specularity_error_rad;
  const auto on_axis = [&](const std::optional<double>& w) -> std::optional<base::Vec3> {
    if (!w) return std::nullopt;
    return base::point_to_outer(mirror.dish_from_secondary, {0.0, 0.0, *w});
  };
  mirror.near_focus = on_axis(form.value().near_focus_w);
  mirror.far_focus = on_axis(form.value().far_focus_w);

  if (!(mirror.rim_radius_m > mirror.hole_radius_m && mirror.hole_radius_m >= 0.0)) {
    return Problem{"secondary/diameter_m", fmt::format("{}", secondary.diameter_m),
                   fmt::format("more than the hole's {} m", secondary.hole_diameter_m)};
  }
  if (!std::isfinite(sag(mirror.surface, mirror.rim_radius_m, 0.0))) {
    return Problem{"secondary/diameter_m", fmt::format("{}", secondary.diameter_m),
                   "a rim that its own surface still reaches"};
  }
  return mirror;
}

std::optional<SecondaryHit> hit_mirror_side(const SecondaryMirror& mirror, const base::Vec3& origin,
                                            const base::Vec3& direction, double least) {
  const base::Vec3 o = base::point_to_inner(mirror.dish_from_secondary, origin);
  const base::Vec3 d = base::direction_to_inner(mirror.dish_from_secondary, direction);
  const Hits hits = intersect(mirror.surface, o, d);
  for (int k = 0; k < hits.count; ++k) {
    const double distance = hits.distance[static_cast<std::size_t>(k)];
    if (!(distance > least)) continue;
    const base::Vec3 point = o + distance * d;
    const base::Vec3 normal = normal_at(mirror.surface, point);
    if (!(glm::dot(normal, d) < 0.0)) continue;
    return SecondaryHit{distance, base::point_to_outer(mirror.dish_from_secondary, point),
                        base::direction_to_outer(mirror.dish_from_secondary, normal),
                        std::sqrt(point.x * point.x + point.y * point.y)};
  }
  return std::nullopt;
}

bool is_stopped_by(const SecondaryMirror& mirror, const base::Vec3& origin,
                   const base::Vec3& direction, double least, double most) {
  const base::Vec3 o = base::point_to_inner(mirror.dish_from_secondary, origin);
  const base::Vec3 d = base::direction_to_inner(mirror.dish_from_secondary, direction);
  const Hits hits = intersect(mirror.surface, o, d);
  for (int k = 0; k < hits.count; ++k) {
    const double distance = hits.distance[static_cast<std::size_t>(k)];
    if (!(distance > least && distance < most)) continue;
    const base::Vec3 point = o + distance * d;
    const double r2 = point.x * point.x + point.y * point.y;
    if (r2 <= mirror.rim_radius_m * mirror.rim_radius_m &&
        r2 >= mirror.hole_radius_m * mirror.hole_radius_m) {
      return true;
    }
  }
  return false;
}

}  // namespace optics
