// Projected outlines and the hull around them.
#include "optics/aperture.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"
#include "base/units.h"
#include "optics/scene.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;
using Corners = std::vector<Corner>;

constexpr int k_round_points = 360;

/// A polygon through 360 points of a circle loses 5e-5 of its area: it is widened to the same area.
std::vector<Vec2> tangent_boundary(const Edge& edge) {
  std::vector<Vec2> points = boundary(edge, k_round_points);
  if (edge.kind != Edge::Kind::ring || edge.opening_turns < 1.0) return points;
  const double turns = 1.0 / k_round_points;
  const double widening = std::sqrt(2.0 * base::k_pi * turns / base::sincos_turns(turns).sin);
  for (Vec2& point : points) point *= widening;
  return points;
}

Vec2 projected(const SceneFacet& facet, const Vec2& p) {
  const Vec3 point =
      base::point_to_outer(facet.dish_from_facet, {p.x, p.y, sag(facet.surface, p.x, p.y)});
  return {point.x, point.y};
}

Corners outline_of(const Scene& scene, std::size_t facet) {
  const SceneFacet& one = scene.facets[facet];
  const auto& points = scene.aperture.boundaries[one.edge];
  Corners corners;
  corners.reserve(points.size());
  for (const Vec2& p : points) {
    corners.push_back({projected(one, p), static_cast<std::uint32_t>(facet)});
  }
  return corners;
}

/// A polygon of points that are surely covered: of each facet one, the outermost in sixteen
/// directions. A facet that lies wholly within it has no part in the hull.
Corners surely_covered(const Scene& scene, std::size_t left_out) {
  constexpr int directions = 16;
  std::array<double, directions> most{};
  std::array<Corner, directions> found{};
  std::array<Vec2, directions> way{};
  for (std::size_t d = 0; d < directions; ++d) {
    const auto [s, c] = base::sincos_turns(static_cast<double>(d) / directions);
    way[d] = {c, s};
  }
  bool any = false;
  for (std::size_t k = 0; k < scene.facets.size(); ++k) {
    if (k == left_out) continue;
    const SceneFacet& facet = scene.facets[k];
    const Vec2 point = projected(facet, scene.aperture.boundaries[facet.edge].front());
    for (std::size_t d = 0; d < directions; ++d) {
      const double along = glm::dot(way[d], point);
      if (any && along <= most[d]) continue;
      most[d] = along;
      found[d] = {point, static_cast<std::uint32_t>(k)};
    }
    any = true;
  }
  return any ? hull_of(Corners(found.begin(), found.end())) : Corners{};
}

bool is_wholly_within(const Corners& polygon, const Sphere& bounds) {
  if (polygon.size() < 3) return false;
  const Vec2 middle{bounds.centre.x, bounds.centre.y};
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Vec2 along = polygon[(k + 1) % polygon.size()].at - polygon[k].at;
    const double room = base::cross(along, middle - polygon[k].at);
    if (!(room > 1.01 * bounds.radius * glm::length(along))) return false;
  }
  return true;
}

Corners hull_without(const Scene& scene, std::size_t left_out) {
  const Corners inner = surely_covered(scene, left_out);
  Corners points;
  for (std::size_t k = 0; k < scene.facets.size(); ++k) {
    if (k == left_out || is_wholly_within(inner, scene.facets[k].bounds)) continue;
    const Corners own = outline_of(scene, k);
    points.insert(points.end(), own.begin(), own.end());
  }
  return hull_of(std::move(points));
}

void add_up(Scene& scene) {
  scene.mirror_area_m2 = 0.0;
  for (const double area : scene.aperture.facet_m2) scene.mirror_area_m2 += area;
  scene.gross_aperture_m2 = area_of(scene.aperture.hull);
}

}  // namespace

// Half the sum of cross products around it.
double area_of(const Corners& corners) {
  double doubled = 0.0;
  for (std::size_t k = 0; k < corners.size(); ++k) {
    doubled += base::cross(corners[k].at, corners[(k + 1) % corners.size()].at);
  }
  return 0.5 * std::abs(doubled);
}

Corners hull_of(Corners points) {
  if (points.size() < 3) return points;
  std::sort(points.begin(), points.end(), [](const auto& a, const auto& b) {
    if (a.at.x != b.at.x) return a.at.x < b.at.x;
    return a.at.y != b.at.y ? a.at.y < b.at.y : a.facet < b.facet;
  });
  Corners hull;
  const auto walk = [&](auto first, auto last, std::size_t floor) {
    for (auto it = first; it != last; ++it) {
      while (hull.size() >= floor + 2 && base::cross(hull.back().at - hull[hull.size() - 2].at,
                                                     it->at - hull.back().at) <= 0.0) {
        hull.pop_back();
      }
      hull.push_back(*it);
    }
    hull.pop_back();
  };
  walk(points.begin(), points.end(), 0);
  walk(points.rbegin(), points.rend(), hull.size());
  return hull;
}

void measure_aperture(Scene& scene) {
  Aperture& aperture = scene.aperture;
  aperture = {};
  for (const Edge& edge : scene.edges) aperture.boundaries.push_back(tangent_boundary(edge));
  for (std::size_t k = 0; k < scene.facets.size(); ++k) {
    aperture.facet_m2.push_back(area_of(outline_of(scene, k)));
  }
  aperture.hull = hull_without(scene, scene.facets.size());
  add_up(scene);
}

void remeasure_aperture(Scene& scene, std::size_t moved) {
  Aperture& aperture = scene.aperture;
  Corners own = outline_of(scene, moved);
  aperture.facet_m2[moved] = area_of(own);
  const auto is_own = [&](const Corner& corner) { return corner.facet == moved; };
  if (aperture.left_out != moved) {
    const bool is_on_hull = std::any_of(aperture.hull.begin(), aperture.hull.end(), is_own);
    aperture.rest = is_on_hull ? hull_without(scene, moved) : aperture.hull;
    aperture.left_out = static_cast<std::uint32_t>(moved);
  }
  own.insert(own.end(), aperture.rest.begin(), aperture.rest.end());
  aperture.hull = hull_of(std::move(own));
  add_up(scene);
}

}  // namespace optics
