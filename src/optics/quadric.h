// Every mirror surface in one form: a quadric through the origin of the element's own frame, where
// it touches the plane w = 0. Sag, normal, intersection and local curvatures for all of them.
#pragma once

#include <array>
#include <cmath>

#include "base/vec.h"

namespace optics {

/// The surface x' S x - 2 w = 0 with x = (u, v, w), S symmetric, lengths in metres (S in 1/m).
/// The mirror side faces +w; positive curvature bends the edges toward +w.
///   flat S = 0; sphere S = I/R; paraboloid diag(1,1,0)/2f;
///   conic of revolution c (u^2 + v^2 + (1+K) w^2) - 2 w = 0.
/// Only the sheet that holds the origin is mirror: there (S x)_w < 1, so the outward normal has a
/// positive w. The far half of a sphere or ellipsoid and the other sheet of a hyperboloid are not.
struct Quadric {
  double uu = 0.0, vv = 0.0, ww = 0.0;
  double uv = 0.0, uw = 0.0, vw = 0.0;

  /// S x.
  [[nodiscard]] base::Vec3 times(const base::Vec3& x) const {
    return {uu * x.x + uv * x.y + uw * x.z, uv * x.x + vv * x.y + vw * x.z,
            uw * x.x + vw * x.y + ww * x.z};
  }
};

Quadric flat_quadric();

/// Conic of revolution about w: vertex curvature c (1/m), conic constant K.
/// K < -1 hyperboloid, -1 paraboloid, -1..0 ellipsoid, 0 sphere.
Quadric conic_quadric(double curvature_per_m, double conic_constant);

/// A piece of the paraboloid z = r^2/4f whose centre lies `off_axis_m` from its axis; `meridian` is
/// the unit direction (u, v) away from the axis.
/// Derived: with tan i = r/2f the parent diag(d, d, 0), d = 1/2f, turned by i and divided by the
/// length 1/cos i of its gradient is cos(i) d [[cos^2, 0, -sin cos], [0, 1, 0], [-sin cos, 0,
/// sin^2]], so the curvatures are cos^3(i)/2f along the meridian and cos(i)/2f across it.
Quadric off_axis_paraboloid_quadric(double focal_length_m, double off_axis_m,
                                    const base::Vec2& meridian);

/// Height w over (u, v), on the sheet of the origin; NaN where the surface does not reach.
/// w = c / (-b + sqrt(b^2 - a c)) of a w^2 + 2 b w + c = 0, which keeps all digits as a -> 0; the
/// textbook (-b - sqrt) / a loses them all there.
inline double sag(const Quadric& s, double u, double v) {
  const double b = s.uw * u + s.vw * v - 1.0;
  const double c = s.uu * u * u + 2.0 * s.uv * u * v + s.vv * v * v;
  const double discriminant = b * b - s.ww * c;
  return c / (std::sqrt(discriminant) - b);
}

/// Unit normal toward +w at a point of the surface.
inline base::Vec3 normal_at(const Quadric& s, const base::Vec3& point) {
  const base::Vec3 gradient = s.times(point);
  const base::Vec3 up{-gradient.x, -gradient.y, 1.0 - gradient.z};
  return up * (1.0 / std::sqrt(up.x * up.x + up.y * up.y + up.z * up.z));
}

/// Distances along a ray to the surface, nearer first; count says how many are real, lie on the
/// sheet of the origin and are finite. Both signs of distance are answered: the caller keeps the
/// nearest beyond its own start that also lies within the outline.
struct Hits {
  int count = 0;
  std::array<double, 2> distance{};
};

/// q = -(b + sign(b) sqrt(b^2 - a c)), distances c/q and q/a: no difference of near-equal numbers.
Hits intersect(const Quadric& s, const base::Vec3& origin, const base::Vec3& direction);

/// Principal curvatures at a point (1/m, positive bends toward the normal), greater first, with the
/// unit direction of the first in the element's frame.
struct Curvatures {
  double greater = 0.0;
  double lesser = 0.0;
  base::Vec3 direction_of_greater{1.0, 0.0, 0.0};
};

/// k(t) = t' S t / |S x - w| for unit tangents t.
Curvatures curvatures_at(const Quadric& s, const base::Vec3& point);

/// A bound on the absolute curvature along any direction at the origin's sheet near the origin:
/// the largest absolute eigenvalue of S is at most its greatest absolute row sum.
double curvature_bound(const Quadric& s);

}  // namespace optics
