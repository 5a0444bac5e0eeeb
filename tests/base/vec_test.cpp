// Frames from normals, poses, boards, reflection: by their laws.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "base/units.h"
#include "base/vec.h"

namespace {

using base::Mat3;
using base::Vec3;

constexpr double k_rounding = 4e-15;

void check_right_handed(const Mat3& axes) {
  CHECK(std::abs(glm::length(axes[0]) - 1.0) < k_rounding);
  CHECK(std::abs(glm::length(axes[1]) - 1.0) < k_rounding);
  CHECK(glm::length(glm::cross(axes[0], axes[1]) - axes[2]) < k_rounding);
}

/// Normals all over the sphere, down to very near -z.
std::vector<Vec3> many_normals() {
  std::vector<Vec3> normals{{0.0, 0.0, 1.0}, {0.0, 0.0, -1.0}, {1.0, 0.0, 0.0}, {0.0, -1.0, 0.0}};
  for (int i = 0; i < 40; ++i) {
    const double z = 0.995 - 0.049 * i;
    const double angle = 2.399963 * i;
    const double r = std::sqrt(1.0 - z * z);
    normals.push_back(base::unit({r * std::cos(angle), r * std::sin(angle), z}));
  }
  return normals;
}

}  // namespace

TEST_CASE("a frame of a normal is orthonormal, right-handed and carries the normal") {
  for (const Vec3& n : many_normals()) {
    for (const double clocking : {0.0, 0.7, -2.5, 6.0}) {
      const Mat3 axes = base::frame_of_normal(n, clocking);
      check_right_handed(axes);
      CHECK(axes[2] == n);
    }
  }
}

TEST_CASE(
    "without clocking the frame is the smallest rotation from +z: it keeps their common axis") {
  for (const Vec3& n : many_normals()) {
    if (std::abs(n.z) > 0.9999) continue;
    const Vec3 axis = base::unit(glm::cross(Vec3{0.0, 0.0, 1.0}, n));
    const Mat3 axes = base::frame_of_normal(n);
    CHECK(glm::length(axes * axis - axis) < 1e-13);
    // Its trace tells the angle of the rotation: 1 + 2 cos, the same as between +z and n.
    CHECK(axes[0].x + axes[1].y + axes[2].z == doctest::Approx(1.0 + 2.0 * n.z).epsilon(1e-12));
  }
}

TEST_CASE("clocking by the azimuth turns u straight outward for a facet aimed at the axis") {
  for (int k = 0; k < 12; ++k) {
    const double azimuth = 2.0 * base::k_pi * k / 12.0;
    const Vec3 outward{std::cos(azimuth), std::sin(azimuth), 0.0};
    const Vec3 n = base::unit(Vec3{0.0, 0.0, 1.0} - 0.3 * outward);
    const Vec3 u = base::frame_of_normal(n, azimuth)[0];
    CHECK(glm::dot(u, outward) > 0.9);
    CHECK(std::abs(glm::dot(u, Vec3{-std::sin(azimuth), std::cos(azimuth), 0.0})) < 1e-14);
  }
}

TEST_CASE("points and directions go through a pose and back") {
  const base::Pose pose{{0.4, -1.0, 2.5}, base::frame_of_normal(base::unit({0.2, -0.5, 0.7}), 1.1)};
  const Vec3 point{0.3, 0.9, -0.2};
  CHECK(glm::length(base::point_to_inner(pose, base::point_to_outer(pose, point)) - point) < 1e-15);
  CHECK(glm::length(base::direction_to_inner(pose, base::direction_to_outer(pose, point)) - point) <
        1e-15);
  CHECK(base::point_to_outer(pose, {0.0, 0.0, 0.0}) == pose.origin);
  CHECK(base::direction_to_outer(pose, {0.0, 0.0, 1.0}) == pose.z());
}

TEST_CASE("a board's right and up are as seen by someone who faces its lit side") {
  // Lit from below (a receiver at the prime focus), top to +y: right is -x.
  const Mat3 below = base::frame_of_board({0.0, 0.0, -1.0}, {0.0, 1.0, 0.0});
  CHECK(below[0] == Vec3{-1.0, 0.0, 0.0});
  CHECK(below[1] == Vec3{0.0, 1.0, 0.0});
  // Lit from the sun's side: right is +x.
  CHECK(base::frame_of_board({0.0, 0.0, 1.0}, {0.0, 1.0, 0.0})[0] == Vec3{1.0, 0.0, 0.0});
}

TEST_CASE("a board needs no usable hint for up") {
  for (const Vec3& normal : many_normals()) {
    for (const Vec3& hint : {normal, Vec3{0.0, 0.0, 0.0}, Vec3{0.0, 1.0, 0.0}}) {
      const Mat3 axes = base::frame_of_board(normal, hint);
      check_right_handed(axes);
    }
  }
}

TEST_CASE("reflection keeps length and plane, and makes equal angles") {
  for (const Vec3& n : many_normals()) {
    const Vec3 d = base::unit({0.3, -0.4, -0.8});
    const Vec3 r = base::reflect(d, n);
    CHECK(glm::length(r) == doctest::Approx(1.0).epsilon(1e-14));
    CHECK(glm::dot(r, n) == doctest::Approx(-glm::dot(d, n)).epsilon(1e-12));
    CHECK(std::abs(glm::dot(glm::cross(d, n), r)) < 1e-15);
    CHECK(glm::length(base::reflect(r, n) - d) < 1e-15);
  }
}
