// Every body is fans and strips of flat or round faces.
#include "page/yard/mesh.h"

#include <array>
#include <cmath>

#include "base/units.h"

namespace yard {
namespace {

std::uint32_t push(Solids& solids, const base::Vec3& position, const base::Vec3& normal, Ink ink) {
  solids.vertices.push_back({glm::vec3(position), glm::vec3(normal), ink});
  return static_cast<std::uint32_t>(solids.vertices.size() - 1);
}

void push_triangle(Solids& solids, std::uint32_t a, std::uint32_t b, std::uint32_t c) {
  solids.indices.insert(solids.indices.end(), {a, b, c});
}

// Unit directions round an axis.
std::vector<base::Vec3> spokes(const base::Vec3& axis, int steps) {
  const base::Mat3 frame = base::frame_of_normal(axis);
  std::vector<base::Vec3> directions;
  for (int i = 0; i < steps; ++i) {
    const double angle = 2.0 * base::k_pi * i / steps;
    directions.push_back(std::cos(angle) * frame[0] + std::sin(angle) * frame[1]);
  }
  return directions;
}

}  // namespace

void add_disc(Solids& solids, const Ring& ring, Ink ink, int steps) {
  const std::uint32_t middle = push(solids, ring.centre, ring.axis, ink);
  const auto around = spokes(ring.axis, steps);
  for (const base::Vec3& spoke : around) {
    push(solids, ring.centre + ring.radius_m * spoke, ring.axis, ink);
  }
  const auto count = static_cast<std::uint32_t>(steps);
  for (std::uint32_t i = 0; i < count; ++i) {
    push_triangle(solids, middle, middle + 1 + i, middle + 1 + (i + 1) % count);
  }
}

void add_tube(Solids& solids, const base::Vec3& from, const base::Vec3& to, double radius_m,
              Ink ink, int steps) {
  const base::Vec3 along = to - from;
  if (glm::length(along) < 1e-9) return;
  const auto around = spokes(base::unit(along), steps);
  const auto first = static_cast<std::uint32_t>(solids.vertices.size());
  for (const base::Vec3& spoke : around) {
    push(solids, from + radius_m * spoke, spoke, ink);
    push(solids, to + radius_m * spoke, spoke, ink);
  }
  const auto count = static_cast<std::uint32_t>(steps);
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint32_t a = first + 2 * i;
    const std::uint32_t b = first + 2 * ((i + 1) % count);
    push_triangle(solids, a, b, a + 1);
    push_triangle(solids, a + 1, b, b + 1);
  }
}

void add_plate(Solids& solids, const Ring& ring, double thickness_m, Ink ink, int steps) {
  const base::Vec3 back = ring.centre - thickness_m * ring.axis;
  add_disc(solids, ring, ink, steps);
  add_disc(solids, {back, -ring.axis, ring.radius_m}, ink, steps);
  add_tube(solids, back, ring.centre, ring.radius_m, ink, steps);
}

void add_box(Solids& solids, const base::Pose& world_from_box, const base::Vec3& size_m, Ink ink) {
  for (int axis = 0; axis < 3; ++axis) {
    for (const double side : {-1.0, 1.0}) {
      const int next = (axis + 1) % 3;
      const int last = (axis + 2) % 3;
      const base::Vec3 normal = side * world_from_box.axes[axis];
      const base::Vec3 middle = world_from_box.origin + 0.5 * size_m[axis] * normal;
      const base::Vec3 a = 0.5 * size_m[next] * side * world_from_box.axes[next];
      const base::Vec3 b = 0.5 * size_m[last] * world_from_box.axes[last];
      add_polygon(solids, {middle - a - b, middle + a - b, middle + a + b, middle - a + b}, normal,
                  ink);
    }
  }
}

void add_polygon(Solids& solids, const std::vector<base::Vec3>& corners, const base::Vec3& normal,
                 Ink ink) {
  const auto first = static_cast<std::uint32_t>(solids.vertices.size());
  for (const base::Vec3& corner : corners) push(solids, corner, normal, ink);
  for (std::uint32_t i = 2; i < corners.size(); ++i) {
    push_triangle(solids, first, first + i - 1, first + i);
  }
}

}  // namespace yard
