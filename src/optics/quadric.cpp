// Making, meeting and measuring quadrics. See quadric.h for the form and the rules.
#include "optics/quadric.h"

#include <algorithm>

#include "base/check.h"

namespace optics {

Quadric flat_quadric() { return {}; }

Quadric conic_quadric(double curvature_per_m, double conic_constant) {
  Quadric s;
  s.uu = curvature_per_m;
  s.vv = curvature_per_m;
  s.ww = curvature_per_m * (1.0 + conic_constant);
  return s;
}

Quadric off_axis_paraboloid_quadric(double focal_length_m, double off_axis_m,
                                    const base::Vec2& meridian) {
  BASE_CHECK(focal_length_m != 0.0, "a parent paraboloid has a focal length");
  const double tan_i = off_axis_m / (2.0 * focal_length_m);
  const double cos_i = 1.0 / std::sqrt(1.0 + tan_i * tan_i);
  const double sin_i = tan_i * cos_i;
  const double scale = cos_i / (2.0 * focal_length_m);
  // In the frame (meridian outward, across, normal).
  const double tt = scale * cos_i * cos_i;
  const double tn = -scale * sin_i * cos_i;
  const double nn = scale * sin_i * sin_i;
  // Turn about the normal so that the meridian stands at its angle from u.
  const double c = meridian.x;
  const double m = meridian.y;
  Quadric s;
  s.uu = tt * c * c + scale * m * m;
  s.vv = tt * m * m + scale * c * c;
  s.uv = (tt - scale) * c * m;
  s.uw = tn * c;
  s.vw = tn * m;
  s.ww = nn;
  return s;
}

Hits intersect(const Quadric& s, const base::Vec3& origin, const base::Vec3& direction) {
  const base::Vec3 sd = s.times(direction);
  const base::Vec3 so = s.times(origin);
  const double a = glm::dot(direction, sd);
  const double b = glm::dot(origin, sd) - direction.z;
  const double c = glm::dot(origin, so) - 2.0 * origin.z;
  const double discriminant = b * b - a * c;
  Hits hits;
  if (!(discriminant >= 0.0)) return hits;
  const double root = std::sqrt(discriminant);
  const double q = b >= 0.0 ? -(b + root) : root - b;
  // Keep what is finite and on the sheet of the origin.
  const auto keep = [&](double distance) {
    const double height = so.z + distance * sd.z;
    if (height < 1.0 && std::abs(distance) < 1e12) {
      hits.distance[static_cast<std::size_t>(hits.count++)] = distance;
    }
  };
  if (q != 0.0) keep(c / q);
  if (a != 0.0) keep(q / a);
  if (hits.count == 2 && hits.distance[0] > hits.distance[1]) {
    std::swap(hits.distance[0], hits.distance[1]);
  }
  return hits;
}

Curvatures curvatures_at(const Quadric& s, const base::Vec3& point) {
  const base::Vec3 normal = normal_at(s, point);
  const base::Vec3 slope = base::Vec3(0.0, 0.0, 1.0) - s.times(point);
  const double length = glm::length(slope);
  const base::Mat3 frame = base::frame_of_normal(normal);
  const base::Vec3 ex = frame[0];
  const base::Vec3 ey = frame[1];
  const double xx = glm::dot(ex, s.times(ex)) / length;
  const double yy = glm::dot(ey, s.times(ey)) / length;
  const double xy = glm::dot(ex, s.times(ey)) / length;
  // Eigenvalues of the symmetric 2 x 2 form.
  const double mean = 0.5 * (xx + yy);
  const double half = 0.5 * (xx - yy);
  const double spread = std::hypot(half, xy);
  const double angle = spread > 0.0 ? 0.5 * std::atan2(xy, half) : 0.0;
  return {mean + spread, mean - spread, std::cos(angle) * ex + std::sin(angle) * ey};
}

double curvature_bound(const Quadric& s) {
  const double u = std::abs(s.uu) + std::abs(s.uv) + std::abs(s.uw);
  const double v = std::abs(s.uv) + std::abs(s.vv) + std::abs(s.vw);
  const double w = std::abs(s.uw) + std::abs(s.vw) + std::abs(s.ww);
  return std::max({u, v, w});
}

}  // namespace optics
