// The nearest of all sides and arcs.
#include "optics/edge_distance.h"

#include <cmath>

namespace optics {
namespace {

using base::Vec2;

void take_nearer(EdgeDistance& nearest, double distance, const Vec2& outward) {
  if (distance < nearest.distance_m) nearest = {distance, outward};
}

}  // namespace

EdgeDistance edge_distance(const Edge& edge, const Vec2& uv) {
  EdgeDistance nearest{HUGE_VAL, {1.0, 0.0}};
  if (edge.kind == Edge::Kind::polygon) {
    for (const Edge::HalfPlane& side : edge.sides) {
      take_nearer(nearest, side.c - side.a * uv.x - side.b * uv.y, {side.a, side.b});
    }
    return nearest;
  }
  const Vec2 way = uv - edge.arc_centre;
  const double radius = std::sqrt(glm::dot(way, way));
  const Vec2 outward = radius > 0.0 ? way / radius : Vec2(1.0, 0.0);
  take_nearer(nearest, edge.outer_radius_m - radius, outward);
  if (edge.inner_radius_m > 0.0) take_nearer(nearest, radius - edge.inner_radius_m, -outward);
  if (edge.opening_turns < 1.0) {
    const Vec2& side = edge.opening_side;
    take_nearer(nearest, side.y * way.x - side.x * std::abs(way.y),
                {-side.y, way.y < 0.0 ? -side.x : side.x});
  }
  return nearest;
}

}  // namespace optics
