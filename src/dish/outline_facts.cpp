// One overload for each outline; what a person can check with a ruler.
#include "dish/outline_facts.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/units.h"

namespace dish {
namespace {

using base::Vec2;

constexpr double k_sqrt3 = 1.7320508075688772;

template <class... Fs>
struct Cases : Fs... {
  using Fs::operator()...;
};
template <class... Fs>
Cases(Fs...) -> Cases<Fs...>;

Vec2 on_circle(double radius, double angle) {
  return {radius * std::cos(angle), radius * std::sin(angle)};
}

/// Distance from a sector's apex to the facet's centre.
double apex_distance(const AnnularSector& sector) {
  return 0.5 * (sector.inner_radius_m + sector.outer_radius_m);
}

int chords(int arc_points) { return std::max(arc_points / 4, 2); }

/// Distance of a polygon's centre of area from the nearest side.
double nearest_side(const Outline& outline, const Corners& corners) {
  const Vec2 centre = outline_centroid(outline);
  double nearest = HUGE_VAL;
  for (std::size_t k = 0; k < corners.size(); ++k) {
    const Vec2 along = corners[(k + 1) % corners.size()] - corners[k];
    const Vec2 way = centre - corners[k];
    nearest = std::min(nearest, (along.x * way.y - along.y * way.x) / glm::length(along));
  }
  return nearest;
}

Corners corners_of(const Hexagon& hexagon) {
  const double reach = hexagon.across_flats_m / k_sqrt3;
  const double half = 0.5 * hexagon.across_flats_m;
  return {{half, -0.5 * reach}, {half, 0.5 * reach},   {0.0, reach},
          {-half, 0.5 * reach}, {-half, -0.5 * reach}, {0.0, -reach}};
}

Corners corners_of(const Rectangle& rectangle) {
  const double u = 0.5 * rectangle.width_m;
  const double v = 0.5 * rectangle.height_m;
  return {{u, -v}, {u, v}, {-u, v}, {-u, -v}};
}

Corners corners_of(const Disc& disc, int arc_points) {
  Corners corners;
  for (int i = 0; i < arc_points; ++i)
    corners.push_back(on_circle(0.5 * disc.diameter_m, 2.0 * base::k_pi * i / arc_points));
  return corners;
}

Corners corners_of(const AnnularSector& sector, int arc_points) {
  const int n = chords(arc_points);
  const Vec2 apex{-apex_distance(sector), 0.0};
  const double half = 0.5 * sector.opening_rad;
  Corners corners;
  // Out along the outer arc anticlockwise, back along the inner one; one point when there is none.
  for (int i = 0; i <= n; ++i)
    corners.push_back(apex + on_circle(sector.outer_radius_m, half * (2.0 * i / n - 1.0)));
  if (sector.inner_radius_m <= 0.0) {
    corners.push_back(apex);
    return corners;
  }
  for (int i = n; i >= 0; --i)
    corners.push_back(apex + on_circle(sector.inner_radius_m, half * (2.0 * i / n - 1.0)));
  return corners;
}

double reach_of(const Corners& corners) {
  double reach = 0.0;
  for (const Vec2& corner : corners) reach = std::max(reach, glm::length(corner));
  return reach;
}

bool sector_contains(const AnnularSector& sector, const Vec2& point) {
  const Vec2 from_apex{point.x + apex_distance(sector), point.y};
  const double radius = glm::length(from_apex);
  if (radius < sector.inner_radius_m || radius > sector.outer_radius_m) return false;
  return std::abs(std::atan2(from_apex.y, from_apex.x)) <= 0.5 * sector.opening_rad;
}

double sector_reach(const AnnularSector& sector) {
  // The furthest point is an outer or inner corner, or the middle of the outer arc.
  const Vec2 apex{-apex_distance(sector), 0.0};
  const double half = 0.5 * sector.opening_rad;
  return std::max({glm::length(apex + on_circle(sector.outer_radius_m, half)),
                   glm::length(apex + on_circle(sector.inner_radius_m, half)),
                   sector.outer_radius_m - apex_distance(sector)});
}

}  // namespace

double outline_area(const Outline& outline) {
  return std::visit(
      Cases{[](const Hexagon& h) { return 0.5 * k_sqrt3 * h.across_flats_m * h.across_flats_m; },
            [](const Rectangle& r) { return r.width_m * r.height_m; },
            [](const Disc& d) { return 0.25 * base::k_pi * d.diameter_m * d.diameter_m; },
            [](const AnnularSector& s) {
              return 0.5 * s.opening_rad * (s.outer_radius_m + s.inner_radius_m) *
                     (s.outer_radius_m - s.inner_radius_m);
            },
            [](const Polygon& p) { return signed_area(p.corners_m); }},
      outline);
}

double narrow_half_width(const Outline& outline) {
  return std::visit(
      Cases{[](const Hexagon& hexagon) { return 0.5 * hexagon.across_flats_m; },
            [](const Rectangle& rectangle) {
              return 0.5 * std::min(rectangle.width_m, rectangle.height_m);
            },
            [](const Disc& disc) { return 0.5 * disc.diameter_m; },
            [](const AnnularSector& sector) {
              const double half = 0.5 * std::min(sector.opening_rad, base::k_pi);
              return std::min(0.5 * (sector.outer_radius_m - sector.inner_radius_m),
                              apex_distance(sector) * std::sin(half));
            },
            [&](const Polygon& polygon) { return nearest_side(outline, polygon.corners_m); }},
      outline);
}

double bounding_radius(const Outline& outline) {
  return std::visit(
      Cases{[](const Hexagon& h) { return h.across_flats_m / k_sqrt3; },
            [](const Rectangle& r) { return 0.5 * std::hypot(r.width_m, r.height_m); },
            [](const Disc& d) { return 0.5 * d.diameter_m; },
            [](const AnnularSector& s) { return sector_reach(s); },
            [](const Polygon& p) { return reach_of(p.corners_m); }},
      outline);
}

Corners outline_corners(const Outline& outline, int arc_points) {
  CHECK(arc_points >= 8, "an arc is drawn with at least eight points");
  return std::visit(
      Cases{[](const Hexagon& h) { return corners_of(h); },
            [](const Rectangle& r) { return corners_of(r); },
            [arc_points](const Disc& d) { return corners_of(d, arc_points); },
            [arc_points](const AnnularSector& s) { return corners_of(s, arc_points); },
            [](const Polygon& p) { return p.corners_m; }},
      outline);
}

bool contains(const Outline& outline, const Vec2& point) {
  if (const auto* disc = std::get_if<Disc>(&outline))
    return glm::length(point) <= 0.5 * disc->diameter_m;
  if (const auto* sector = std::get_if<AnnularSector>(&outline))
    return sector_contains(*sector, point);
  return contains(outline_corners(outline), point);
}

Vec2 outline_centroid(const Outline& outline) {
  if (const auto* polygon = std::get_if<Polygon>(&outline)) return centroid(polygon->corners_m);
  const auto* sector = std::get_if<AnnularSector>(&outline);
  if (sector == nullptr) return {0.0, 0.0};
  const double half = 0.5 * sector->opening_rad;
  const double outer = sector->outer_radius_m;
  const double inner = sector->inner_radius_m;
  // (R^3 - r^3) / (R^2 - r^2), without the difference that vanishes for thin rings.
  const double mean = (outer * outer + outer * inner + inner * inner) / (outer + inner);
  return {2.0 / 3.0 * std::sin(half) / half * mean - apex_distance(*sector), 0.0};
}

bool is_convex(const Outline& outline) {
  if (const auto* sector = std::get_if<AnnularSector>(&outline))
    return sector->inner_radius_m <= 0.0 && sector->opening_rad <= base::k_pi;
  if (const auto* polygon = std::get_if<Polygon>(&outline)) return is_convex(polygon->corners_m);
  return true;
}

std::vector<Corners> convex_pieces(const Outline& outline, int arc_points) {
  const auto* sector = std::get_if<AnnularSector>(&outline);
  if (sector == nullptr || is_convex(outline)) return {outline_corners(outline, arc_points)};
  const int n = chords(arc_points);
  const Vec2 apex{-apex_distance(*sector), 0.0};
  std::vector<Corners> pieces;
  for (int i = 0; i < n; ++i) {
    const double from = sector->opening_rad * (static_cast<double>(i) / n - 0.5);
    const double to = sector->opening_rad * (static_cast<double>(i + 1) / n - 0.5);
    pieces.push_back({apex + on_circle(sector->inner_radius_m, from),
                      apex + on_circle(sector->outer_radius_m, from),
                      apex + on_circle(sector->outer_radius_m, to),
                      apex + on_circle(sector->inner_radius_m, to)});
  }
  return pieces;
}

}  // namespace dish
