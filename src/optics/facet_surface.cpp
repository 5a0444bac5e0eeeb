// Flat, spherical, paraboloid and off-axis facets.
#include "optics/facet_surface.h"

#include <cmath>

#include "base/elementary.h"
#include "base/units.h"

namespace optics {
namespace {

struct Made {
  const dish::Facet& facet;
  const base::Vec3& normal;

  Quadric operator()(const dish::Flat&) const { return flat_quadric(); }
  Quadric operator()(const dish::Spherical& sphere) const {
    return conic_quadric(1.0 / sphere.radius_m, 0.0);
  }
  Quadric operator()(const dish::Paraboloid& paraboloid) const {
    return conic_quadric(0.5 / paraboloid.focal_length_m, -1.0);
  }
  Quadric operator()(const dish::OffAxisParaboloid& piece) const {
    const base::Vec3 outward{facet.centre_m.x, facet.centre_m.y, 0.0};
    const double off_axis = piece.off_axis_m.value_or(glm::length(outward));
    return off_axis_paraboloid_quadric(piece.focal_length_m, off_axis, meridian(piece, outward));
  }

 private:
  [[nodiscard]] base::Vec2 meridian(const dish::OffAxisParaboloid& piece,
                                    const base::Vec3& outward) const {
    if (piece.meridian_rad) {
      const auto [s, c] = base::sincos_turns(*piece.meridian_rad / (2.0 * base::k_pi));
      return {c, s};
    }
    const base::Mat3 frame = base::frame_of_normal(normal, facet.clocking_rad);
    const base::Vec2 way{glm::dot(outward, frame[0]), glm::dot(outward, frame[1])};
    const double length = std::sqrt(glm::dot(way, way));
    return length > 1e-12 ? way / length : base::Vec2(1.0, 0.0);
  }
};

}  // namespace

Quadric facet_quadric(const dish::Surface& surface, const dish::Facet& facet,
                      const base::Vec3& nominal_normal) {
  return std::visit(Made{facet, nominal_normal}, surface);
}

}  // namespace optics
