// Beams as cones swept from the sphere around a facet.
#include "optics/neighbours.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace optics {
namespace {

using base::Vec3;

/// Farthest radial deviate, in standard deviations per axis: sqrt(2) times the inverse normal of
/// 1 - 2^-33, which is 6.34.
constexpr double k_farthest_deviate = 9.0;
constexpr double k_wide_rad = 1.4;  ///< beams wider than this are not culled

/// A facet's glass lies within the prism over its outline, from its lowest to its highest point.
struct Prism {
  std::vector<Vec3> corners;  ///< of the outline in the tangent plane, dish frame
  Vec3 normal{0.0, 0.0, 1.0};
  double low = 0.0;
  double high = 0.0;
  double margin = 0.0;  ///< how far a round edge bulges beyond its corners

  Prism(const SceneFacet& facet, const Edge& edge, double form_height)
      : normal(facet.dish_from_facet.z()) {
    constexpr int round_points = 24;
    for (const base::Vec2& p : boundary(edge, round_points)) {
      corners.push_back(base::point_to_outer(facet.dish_from_facet, {p.x, p.y, 0.0}));
      const double height = sag(facet.surface, p.x, p.y);
      low = std::min(low, 1.01 * height);
      high = std::max(high, 1.01 * height);
    }
    low -= form_height;
    high += form_height;
    if (edge.kind == Edge::Kind::ring) {
      const double step = 2.0 * base::k_pi * edge.opening_turns / round_points;
      margin = edge.outer_radius_m * (1.0 - std::cos(0.5 * step));
    }
  }

  /// Greatest m . x over the prism, for a unit vector m.
  [[nodiscard]] double reach_along(const Vec3& m) const {
    double most = -1e300;
    for (const Vec3& corner : corners) most = std::max(most, glm::dot(m, corner));
    const double rise = glm::dot(m, normal);
    return most + std::max(rise * low, rise * high) + margin;
  }
};

/// Whether a plane parts all rays of the beam, which start within `source`, from `target`: its
/// normal m leans as far from the axis, away from the target, as keeps m . w >= 0 for every
/// direction w.
bool is_parted(const Beam& beam, const Prism& source, const Prism& target, const Vec3& way) {
  if (beam.half_angle_rad >= k_wide_rad) return false;
  const Vec3 across = way - glm::dot(way, beam.axis) * beam.axis;
  const double length = glm::length(across);
  if (length < 1e-9) return false;
  const Vec3 m =
      std::sin(beam.half_angle_rad) * beam.axis - (std::cos(beam.half_angle_rad) / length) * across;
  return target.reach_along(m) < -source.reach_along(-m) - 1e-9;
}

/// Facets the beam can touch before it has left the layer of facets for good.
std::vector<std::uint32_t> touched_facets(const Scene& scene, const std::vector<Prism>& prisms,
                                          const Beam& beam, std::size_t self) {
  const FacetGrid& grid = scene.grid;
  std::vector<std::uint32_t> found;
  const auto take = [&](std::uint32_t other) {
    if (other == self || !can_touch(beam, scene.facets[other].bounds)) return false;
    const Vec3 way = scene.facets[other].bounds.centre - beam.source.centre;
    if (!is_parted(beam, prisms[self], prisms[other], way)) found.push_back(other);
    return false;
  };
  const double huge = 1e30;
  if (beam.half_angle_rad >= k_wide_rad) {
    grid.any_of({-huge, -huge}, {huge, huge}, take);
  } else {
    // The flattest ray of the cone tells how far the layer is crossed.
    const double lean = std::acos(std::clamp(beam.axis.z, -1.0, 1.0)) + beam.half_angle_rad;
    double length = grid.diagonal();
    if (lean < k_wide_rad) {
      const double rise = grid.top() - beam.source.centre.z + beam.source.radius;
      length = std::min(length, std::max(rise, 0.0) / std::cos(lean));
    }
    const Vec3 a = beam.source.centre;
    const Vec3 b = a + length * beam.axis;
    const double spread = beam.source.radius + length * (std::sin(beam.half_angle_rad) + 1.0 -
                                                         std::cos(beam.half_angle_rad));
    grid.any_of({std::min(a.x, b.x) - spread, std::min(a.y, b.y) - spread},
                {std::max(a.x, b.x) + spread, std::max(a.y, b.y) + spread}, take);
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// Obstacles and the secondary that the beam can touch. Toward the next element neither the
/// secondary nor, at the prime focus, the receiver is an obstacle.
void add_obstacles(const Scene& scene, const Beam& beam, bool toward_sun, bool cull,
                   std::vector<std::uint32_t>& found) {
  for (std::size_t k = 0; k < scene.obstacles.size(); ++k) {
    const bool is_target = k == 0 && scene.receiver_shades && !scene.secondary;
    if (!toward_sun && is_target) continue;
    if (!cull || can_touch(beam, scene.obstacles[k].bounds)) {
      found.push_back(scene.obstacle_code(k));
    }
  }
  if (toward_sun && scene.secondary && (!cull || can_touch(beam, scene.secondary_bounds))) {
    found.push_back(scene.secondary_code());
  }
}

Span append(std::vector<std::uint32_t>& all, const std::vector<std::uint32_t>& part) {
  const Span span{static_cast<std::uint32_t>(all.size()), static_cast<std::uint32_t>(part.size())};
  all.insert(all.end(), part.begin(), part.end());
  return span;
}

std::vector<std::uint32_t> all_others(const Scene& scene, std::size_t self) {
  std::vector<std::uint32_t> others;
  for (std::size_t k = 0; k < scene.facets.size(); ++k) {
    if (k != self) others.push_back(static_cast<std::uint32_t>(k));
  }
  return others;
}

}  // namespace

bool can_touch(const Beam& beam, const Sphere& target) {
  if (beam.half_angle_rad >= k_wide_rad) return true;
  const Vec3 way = target.centre - beam.source.centre;
  const double reach = beam.source.radius + target.radius;
  const double along = glm::dot(way, beam.axis);
  const double across = glm::length(way - along * beam.axis);
  const double c = std::cos(beam.half_angle_rad);
  const double s = std::sin(beam.half_angle_rad);
  // Nearest point of the cone is its tip when the centre lies behind the tip's own cone of normals.
  if (along * c + across * s < 0.0) return glm::length(way) <= reach;
  return across * c - along * s <= reach;
}

Beam shading_beam(const Scene& scene, const SceneFacet& facet) {
  return {facet.bounds, scene.sun, std::asin(scene.sun_profile.reach_sine) + 1e-9};
}

Beam blocking_beam(const Scene& scene, const SceneFacet& facet) {
  const Vec3 normal = facet.dish_from_facet.z();
  // Turn of the normal over the glass: it follows w - S x, and |S x| <= bound times distance.
  const double reach =
      facet.bounds.radius + glm::distance(facet.bounds.centre, facet.dish_from_facet.origin);
  const double form = facet.form == k_no_form ? 0.0 : scene.forms[facet.form].most_slope;
  const double gradient = curvature_bound(facet.surface) * reach + form;
  const double turn = gradient < 0.9 ? std::atan2(gradient, 1.0 - gradient) : base::k_pi;
  const double errors =
      k_farthest_deviate * (2.0 * facet.slope_error_rad + facet.specularity_error_rad);
  return {facet.bounds, base::reflect(-scene.sun, normal),
          std::asin(scene.sun_profile.reach_sine) + 2.0 * turn + errors + 1e-9};
}

void find_candidates(Scene& scene, bool cull) {
  std::vector<Sphere> bounds;
  bounds.reserve(scene.facets.size());
  std::vector<Prism> prisms;
  prisms.reserve(scene.facets.size());
  for (const SceneFacet& facet : scene.facets) {
    bounds.push_back(facet.bounds);
    const double height = facet.form == k_no_form ? 0.0 : scene.forms[facet.form].most_height_m;
    prisms.emplace_back(facet, scene.edges[facet.edge], height);
  }
  scene.grid = FacetGrid(bounds, cull);
  scene.candidates.clear();
  for (std::size_t k = 0; k < scene.facets.size(); ++k) {
    SceneFacet& facet = scene.facets[k];
    for (const bool toward_sun : {true, false}) {
      const Beam beam = toward_sun ? shading_beam(scene, facet) : blocking_beam(scene, facet);
      auto found = cull ? touched_facets(scene, prisms, beam, k) : all_others(scene, k);
      add_obstacles(scene, beam, toward_sun, cull, found);
      (toward_sun ? facet.shaders : facet.blockers) = append(scene.candidates, found);
    }
  }
}

}  // namespace optics
