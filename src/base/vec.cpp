// Frames from normals.
#include "base/vec.h"

#include <array>
#include <cmath>

#include "base/check.h"

namespace base {

Mat3 frame_of_normal(const Vec3& n, double clocking_rad) {
  Vec3 ex;
  Vec3 ey;
  if (n.z > -1.0 + 1e-12) {
    const double k = 1.0 / (1.0 + n.z);
    ex = {1.0 - n.x * n.x * k, -n.x * n.y * k, -n.x};
    ey = {-n.x * n.y * k, 1.0 - n.y * n.y * k, -n.y};
  } else {
    ex = {1.0, 0.0, 0.0};
    ey = {0.0, -1.0, 0.0};
  }
  const double c = std::cos(clocking_rad);
  const double s = std::sin(clocking_rad);
  return Mat3{c * ex + s * ey, c * ey - s * ex, n};
}

Mat3 frame_of_board(const Vec3& lit_normal, const Vec3& up_hint) {
  const std::array<Vec3, 3> hints{up_hint, Vec3{0.0, 1.0, 0.0}, Vec3{1.0, 0.0, 0.0}};
  for (const Vec3& hint : hints) {
    const Vec3 up = hint - glm::dot(hint, lit_normal) * lit_normal;
    if (glm::dot(up, up) < 1e-12) continue;
    const Vec3 y = unit(up);
    return Mat3{glm::cross(y, lit_normal), y, lit_normal};
  }
  CHECK(false, "one of two axes is never parallel to a normal");
}

Vec3 unit(const Vec3& v) {
  const double length = glm::length(v);
  CHECK(length > 0.0, "only a vector with a length has a direction");
  return v / length;
}

}  // namespace base
