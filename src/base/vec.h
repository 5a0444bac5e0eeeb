// Vectors, rotations and poses. Transforms are named target_from_source and points carry their
// frame in the name, so that a product reads as a chain.
#pragma once

#include <glm/geometric.hpp>
#include <glm/mat3x3.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace base {

using Vec2 = glm::dvec2;
using Vec3 = glm::dvec3;
using Mat2 = glm::dmat2;
using Mat3 = glm::dmat3;  ///< columns are the images of x, y, z

/// A right-handed orthonormal frame placed in another one: target = origin + axes * source.
struct Pose {
  Vec3 origin{0.0, 0.0, 0.0};
  Mat3 axes{1.0};  ///< columns x, y, z of the source frame, seen from the target frame

  [[nodiscard]] Vec3 x() const { return axes[0]; }
  [[nodiscard]] Vec3 y() const { return axes[1]; }
  [[nodiscard]] Vec3 z() const { return axes[2]; }
};

inline Vec3 point_to_outer(const Pose& outer_from_inner, const Vec3& point_inner) {
  return outer_from_inner.origin + outer_from_inner.axes * point_inner;
}
inline Vec3 direction_to_outer(const Pose& outer_from_inner, const Vec3& direction_inner) {
  return outer_from_inner.axes * direction_inner;
}
inline Vec3 point_to_inner(const Pose& outer_from_inner, const Vec3& point_outer) {
  return (point_outer - outer_from_inner.origin) * outer_from_inner.axes;  // row * M = M^T * v
}
inline Vec3 direction_to_inner(const Pose& outer_from_inner, const Vec3& direction_outer) {
  return direction_outer * outer_from_inner.axes;
}

/// The smallest rotation that takes +z to the unit vector n, followed by a turn about n.
/// Columns ex, ey, n. Smooth everywhere except n = -z, where the turn is about x by half a circle.
/// Source: derived; the closed form avoids the division by sin(angle) that fails on the axis.
Mat3 frame_of_normal(const Vec3& n, double clocking_rad = 0.0);

/// Axes of a flat board whose lit side faces `lit_normal`: x = right and y = up as seen by someone
/// who faces the lit side, z = lit_normal. `up_hint` is projected into the board; when it is
/// parallel to the normal, +y then +x of the dish serve instead.
Mat3 frame_of_board(const Vec3& lit_normal, const Vec3& up_hint);

/// Unit vector along v. v must not be zero.
Vec3 unit(const Vec3& v);

/// Twice the area of the triangle 0, a, b; above zero when b lies to the left of a.
inline double cross(const Vec2& a, const Vec2& b) { return a.x * b.y - a.y * b.x; }

inline double square(double x) { return x * x; }

/// Mirror image of a travelling direction: d - 2 (d.n) n, for a unit normal n.
inline Vec3 reflect(const Vec3& direction, const Vec3& normal) {
  return direction - 2.0 * glm::dot(direction, normal) * normal;
}

}  // namespace base
