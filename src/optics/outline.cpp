// Outlines of mirrors. Angles are kept in turns, so that points are the same bits everywhere.
#include "optics/outline.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/units.h"

namespace optics {
namespace {

using base::Problem;
using base::Result;
using base::Vec2;

Vec2 on_circle(double turns, double radius) {
  const auto [s, c] = base::sincos_turns(turns);
  return {radius * c, radius * s};
}

Result<Edge> polygon_edge(std::vector<Vec2> corners, const std::string& place) {
  const std::size_t count = corners.size();
  if (count < 3) {
    return Problem{place, fmt::format("{} corners", count), "three corners or more"};
  }
  Edge edge;
  edge.kind = Edge::Kind::polygon;
  edge.surely_inside_m = HUGE_VAL;
  for (std::size_t k = 0; k < count; ++k) {
    const Vec2 along = corners[(k + 1) % count] - corners[k];
    const double length = glm::length(along);
    const double turn = base::cross(along, corners[(k + 2) % count] - corners[(k + 1) % count]);
    if (!(length > 0.0) || !(turn >= -1e-9 * length * length)) {
      return Problem{place, fmt::format("corner {}", k + 1),
                     "corners that go round anticlockwise and never turn inward"};
    }
    const Edge::HalfPlane side{along.y / length, -along.x / length,
                               base::cross(corners[k], along) / length};
    edge.sides.push_back(side);
    edge.surely_inside_m = std::min(edge.surely_inside_m, side.c);
    edge.bounding_radius_m = std::max(edge.bounding_radius_m, glm::length(corners[k]));
  }
  edge.surely_inside_m = std::max(edge.surely_inside_m, 0.0);
  for (std::size_t k = 1; k + 1 < count; ++k) {
    edge.area_m2 += 0.5 * base::cross(corners[k] - corners[0], corners[k + 1] - corners[0]);
    edge.fan_share.push_back(edge.area_m2);
  }
  if (!(edge.area_m2 > 1e-12)) {
    return Problem{place, fmt::format("{} m2", edge.area_m2), "an outline with an area"};
  }
  for (double& share : edge.fan_share) share /= edge.area_m2;
  edge.corners = std::move(corners);
  return edge;
}

Result<Edge> edge_of(const dish::Hexagon& hexagon, const std::string& place) {
  std::vector<Vec2> corners;
  for (int k = 0; k < 6; ++k) {
    corners.push_back(on_circle((2.0 * k + 1.0) / 12.0, hexagon.across_flats_m / std::sqrt(3.0)));
  }
  return polygon_edge(std::move(corners), place);
}

Result<Edge> edge_of(const dish::Rectangle& rectangle, const std::string& place) {
  const double u = 0.5 * rectangle.width_m;
  const double v = 0.5 * rectangle.height_m;
  return polygon_edge({{u, -v}, {u, v}, {-u, v}, {-u, -v}}, place);
}

Result<Edge> edge_of(const dish::Disc& disc, const std::string& place) {
  if (!(disc.diameter_m > 1e-6)) {
    return Problem{place, fmt::format("{} m", disc.diameter_m), "an outline with an area"};
  }
  return ring_edge(0.5 * disc.diameter_m, 0.0);
}

Result<Edge> edge_of(const dish::AnnularSector& sector, const std::string& place) {
  const double inner = sector.inner_radius_m;
  const double outer = sector.outer_radius_m;
  const double turns = sector.opening_rad / (2.0 * base::k_pi);
  if (!(outer > inner && inner >= 0.0)) {
    return Problem{place, fmt::format("radii {} and {} m", inner, outer),
                   "an outer radius above the inner one"};
  }
  if (!(turns > 1e-6 && turns <= 0.5)) {
    return Problem{place, fmt::format("{} rad", sector.opening_rad),
                   "an opening above 0 and up to half a turn"};
  }
  Edge edge;
  edge.kind = Edge::Kind::ring;
  edge.area_m2 = 0.5 * sector.opening_rad * (outer * outer - inner * inner);
  edge.arc_centre = {-0.5 * (inner + outer), 0.0};
  edge.inner_radius_m = inner;
  edge.outer_radius_m = outer;
  edge.opening_turns = turns;
  edge.opening_side = on_circle(0.5 * turns, 1.0);
  for (const Vec2& point : boundary(edge, 256)) {
    edge.bounding_radius_m = std::max(edge.bounding_radius_m, glm::length(point));
  }
  edge.bounding_radius_m *= 1.0 + 1e-4;  // the arc between the points
  edge.surely_inside_m =
      std::min(0.5 * (outer - inner), 0.5 * (inner + outer) * edge.opening_side.y);
  return edge;
}

Result<Edge> edge_of(const dish::Polygon& polygon, const std::string& place) {
  return polygon_edge(polygon.corners_m, place);
}

}  // namespace

Result<Edge> make_edge(const dish::Outline& outline, const std::string& place) {
  return std::visit([&](const auto& kind) { return edge_of(kind, place); }, outline);
}

Edge ring_edge(double outer_radius_m, double hole_radius_m) {
  Edge edge;
  edge.kind = Edge::Kind::ring;
  edge.area_m2 = base::k_pi * (outer_radius_m * outer_radius_m - hole_radius_m * hole_radius_m);
  edge.bounding_radius_m = outer_radius_m;
  edge.surely_inside_m = hole_radius_m > 0.0 ? 0.0 : outer_radius_m;
  edge.inner_radius_m = hole_radius_m;
  edge.outer_radius_m = outer_radius_m;
  return edge;
}

bool is_parallelogram(const Edge& edge) {
  return edge.corners.size() == 4 &&
         edge.corners[0] + edge.corners[2] == edge.corners[1] + edge.corners[3];
}

bool is_inside(const Edge& edge, double u, double v) {
  const double r2 = u * u + v * v;
  if (r2 > edge.bounding_radius_m * edge.bounding_radius_m) return false;
  if (r2 < edge.surely_inside_m * edge.surely_inside_m) return true;
  if (edge.kind == Edge::Kind::polygon) {
    for (const Edge::HalfPlane& side : edge.sides) {
      if (side.a * u + side.b * v > side.c) return false;
    }
    return true;
  }
  const double x = u - edge.arc_centre.x;
  const double y = v - edge.arc_centre.y;
  const double from_arc = x * x + y * y;
  if (from_arc > edge.outer_radius_m * edge.outer_radius_m) return false;
  if (from_arc < edge.inner_radius_m * edge.inner_radius_m) return false;
  // Below the straight edge and above its mirror image.
  return edge.opening_turns >= 1.0 || edge.opening_side.x * std::abs(y) <= edge.opening_side.y * x;
}

Vec2 sample(const Edge& edge, double x, double y) {
  if (edge.kind == Edge::Kind::ring) {
    const double inner2 = edge.inner_radius_m * edge.inner_radius_m;
    const double outer2 = edge.outer_radius_m * edge.outer_radius_m;
    const double radius = std::sqrt(inner2 + x * (outer2 - inner2));
    return edge.arc_centre + on_circle((y - 0.5) * edge.opening_turns, radius);
  }
  if (is_parallelogram(edge)) {
    return edge.corners[0] + x * (edge.corners[1] - edge.corners[0]) +
           y * (edge.corners[3] - edge.corners[0]);
  }
  // Choose a triangle of the fan by its area and stretch what is left of x over it.
  std::size_t k = 0;
  double before = 0.0;
  while (k + 1 < edge.fan_share.size() && x >= edge.fan_share[k]) before = edge.fan_share[k++];
  const double rest = std::clamp((x - before) / (edge.fan_share[k] - before), 0.0, 1.0);
  const double root = std::sqrt(rest);
  const Vec2 toward_first = edge.corners[k + 1] - edge.corners[0];
  const Vec2 toward_second = edge.corners[k + 2] - edge.corners[0];
  return edge.corners[0] + root * ((1.0 - y) * toward_first + y * toward_second);
}

std::vector<Vec2> boundary(const Edge& edge, int round_points) {
  if (edge.kind == Edge::Kind::polygon) return edge.corners;
  std::vector<Vec2> points;
  const bool is_whole = edge.opening_turns >= 1.0;
  const auto turn_at = [&](int k) {
    return (static_cast<double>(k) / round_points - 0.5) * edge.opening_turns;
  };
  for (int k = 0; k < round_points + (is_whole ? 0 : 1); ++k) {
    points.push_back(edge.arc_centre + on_circle(turn_at(k), edge.outer_radius_m));
  }
  for (int k = round_points; !is_whole && k >= 0; --k) {
    points.push_back(edge.arc_centre + on_circle(turn_at(k), edge.inner_radius_m));
  }
  return points;
}

}  // namespace optics
