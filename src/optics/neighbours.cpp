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

Prism prism_of_facet(const Scene& scene, const SceneFacet& facet) {
  const double height = facet.form == k_no_form ? 0.0 : scene.forms[facet.form].most_height_m;
  return {facet, scene.edges[facet.edge], height};
}

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

/// Where a beam can be before it has left the layer of facets for good, seen along the dish axis.
struct Footprint {
  base::Vec2 low{-1e30, -1e30};
  base::Vec2 high{1e30, 1e30};
};

Footprint footprint(const FacetGrid& grid, const Beam& beam) {
  if (beam.half_angle_rad >= k_wide_rad) return {};
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
  return {{std::min(a.x, b.x) - spread, std::min(a.y, b.y) - spread},
          {std::max(a.x, b.x) + spread, std::max(a.y, b.y) + spread}};
}

/// Whether the beam of facet `self` can touch facet `other`.
template <class PrismOf>
bool touches(const Scene& scene, const Beam& beam, std::size_t self, std::size_t other,
             const PrismOf& prism_of) {
  if (other == self || !can_touch(beam, scene.facets[other].bounds)) return false;
  const Vec3 way = scene.facets[other].bounds.centre - beam.source.centre;
  return !is_parted(beam, prism_of(self), prism_of(other), way);
}

/// Facets the beam can touch.
template <class PrismOf>
std::vector<std::uint32_t> touched_facets(const Scene& scene, const Beam& beam, std::size_t self,
                                          const PrismOf& prism_of) {
  std::vector<std::uint32_t> found;
  const Footprint place = footprint(scene.grid, beam);
  scene.grid.any_of(place.low, place.high, [&](std::uint32_t other) {
    if (touches(scene, beam, self, other, prism_of)) found.push_back(other);
    return false;
  });
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

std::vector<Sphere> all_bounds(const Scene& scene) {
  std::vector<Sphere> bounds;
  bounds.reserve(scene.facets.size());
  for (const SceneFacet& facet : scene.facets) bounds.push_back(facet.bounds);
  return bounds;
}

Beam beam_of(const Scene& scene, const SceneFacet& facet, bool toward_sun) {
  return toward_sun ? shading_beam(scene, facet) : blocking_beam(scene, facet);
}

/// The two lists of one facet, put behind all others.
template <class PrismOf>
void find_own(Scene& scene, std::size_t k, const PrismOf& prism_of) {
  SceneFacet& facet = scene.facets[k];
  for (const bool toward_sun : {true, false}) {
    const Beam beam = beam_of(scene, facet, toward_sun);
    auto found = scene.is_culled ? touched_facets(scene, beam, k, prism_of) : all_others(scene, k);
    add_obstacles(scene, beam, toward_sun, scene.is_culled, found);
    (toward_sun ? facet.shaders : facet.blockers) = append(scene.candidates, found);
    const Footprint place = footprint(scene.grid, beam);
    const Vec3& from = facet.bounds.centre;
    scene.beam_reach_m = std::max({scene.beam_reach_m, from.x - place.low.x, from.y - place.low.y,
                                   place.high.x - from.x, place.high.y - from.y});
  }
}

/// Puts a facet on another's list, or takes it off; answers whether it is or was on it.
bool enter_moved(Scene& scene, std::uint32_t other, bool toward_sun, std::uint32_t moved,
                 bool is_on) {
  SceneFacet& facet = scene.facets[other];
  Span& span = toward_sun ? facet.shaders : facet.blockers;
  const auto first = scene.candidates.begin() + span.first;
  const auto place = std::lower_bound(first, first + span.count, moved);
  const bool was_on = place != first + span.count && *place == moved;
  if (was_on == is_on) return is_on;
  std::vector<std::uint32_t> list(first, first + span.count);
  const auto at = list.begin() + (place - first);
  if (is_on) {
    list.insert(at, moved);
  } else {
    list.erase(at);
  }
  span = append(scene.candidates, list);
  return true;
}

/// Drops what lists have left behind.
void pack(Scene& scene) {
  const std::vector<std::uint32_t> old = std::move(scene.candidates);
  scene.candidates = {};
  for (SceneFacet& facet : scene.facets) {
    for (Span* span : {&facet.shaders, &facet.blockers}) {
      const auto first = old.begin() + span->first;
      *span = append(scene.candidates, {first, first + span->count});
    }
  }
  scene.packed_candidates = scene.candidates.size();
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
  scene.is_culled = cull;
  std::vector<Prism> prisms;
  prisms.reserve(scene.facets.size());
  for (const SceneFacet& facet : scene.facets) {
    prisms.push_back(prism_of_facet(scene, facet));
  }
  scene.grid = FacetGrid(all_bounds(scene), cull);
  scene.candidates.clear();
  scene.beam_reach_m = 0.0;
  const auto prism_of = [&](std::size_t facet) -> const Prism& { return prisms[facet]; };
  for (std::size_t k = 0; k < scene.facets.size(); ++k) find_own(scene, k, prism_of);
  scene.packed_candidates = scene.candidates.size();
}

void update_candidates(Scene& scene, std::size_t moved, SceneMove& move) {
  // First, because the lists that the move leaves behind are still wanted after it.
  if (scene.candidates.size() > 2 * scene.packed_candidates + 4096) {
    pack(scene);
    move.facet.shaders = scene.facets[moved].shaders;
    move.facet.blockers = scene.facets[moved].blockers;
  }
  const auto note = [&](std::uint32_t other, const std::array<Span, 2>& lists) {
    move.touched.push_back(other);
    move.lists.push_back(lists);
  };
  const auto lists_of = [&](std::uint32_t other) {
    return std::array<Span, 2>{scene.facets[other].shaders, scene.facets[other].blockers};
  };
  if (!scene.is_culled) {
    for (const std::uint32_t other : all_others(scene, moved)) note(other, lists_of(other));
    return;
  }
  const Sphere& before = move.facet.bounds;
  const Sphere& now = scene.facets[moved].bounds;
  if (!scene.grid.stays(static_cast<std::uint32_t>(moved), now)) {
    scene.grid = FacetGrid(all_bounds(scene), true);
  }
  const auto prism_of = [&](std::size_t facet) {
    return prism_of_facet(scene, scene.facets[facet]);
  };
  find_own(scene, moved, prism_of);
  // Whose beams can reach its place, before or now? None reaches farther than the farthest.
  const Vec3 low = glm::min(before.centre, now.centre) - scene.beam_reach_m;
  const Vec3 high = glm::max(before.centre, now.centre) + scene.beam_reach_m;
  std::vector<std::uint32_t> near;
  scene.grid.any_of({low.x, low.y}, {high.x, high.y}, [&](std::uint32_t other) {
    if (other != moved) near.push_back(other);
    return false;
  });
  std::sort(near.begin(), near.end());
  for (const std::uint32_t other : near) {
    const auto lists = lists_of(other);
    bool any = false;
    for (const bool toward_sun : {true, false}) {
      const Beam beam = beam_of(scene, scene.facets[other], toward_sun);
      any |= enter_moved(scene, other, toward_sun, static_cast<std::uint32_t>(moved),
                         touches(scene, beam, other, moved, prism_of));
    }
    if (any) note(other, lists);
  }
}

}  // namespace optics
