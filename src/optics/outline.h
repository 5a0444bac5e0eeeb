// A mirror's outline made ready for light: inside, area-uniform points, area and bounds.
#pragma once

#include <vector>

#include "base/result.h"
#include "base/vec.h"
#include "dish/outline.h"

namespace optics {

/// All lengths in metres in the tangent plane (u, v). A convex outline is a list of half planes; a
/// round one a ring, possibly with a hole, possibly cut to an angle about `arc_centre`.
struct Edge {
  enum class Kind { polygon, ring };
  /// Inside is a u + b v <= c, (a, b) a unit vector.
  struct HalfPlane {
    double a = 0.0, b = 0.0, c = 0.0;
  };

  Kind kind = Kind::polygon;
  double area_m2 = 0.0;
  double bounding_radius_m = 0.0;  ///< about the origin
  double surely_inside_m = 0.0;    ///< every point nearer to the origin is inside

  std::vector<base::Vec2> corners;  ///< polygon, anticlockwise
  std::vector<HalfPlane> sides;     ///< of the polygon
  std::vector<double> fan_share;    ///< polygon: area share up to and with each triangle of the fan

  base::Vec2 arc_centre{0.0, 0.0};
  double inner_radius_m = 0.0;
  double outer_radius_m = 0.0;
  double opening_turns = 1.0;          ///< 1: the whole ring; else about +u, at most a half
  base::Vec2 opening_side{-1.0, 0.0};  ///< direction of the straight edge on the +v side
};

/// Problems: no area, fewer than three corners, corners not convex and anticlockwise, a sector that
/// opens beyond half a turn. `place` names the outline.
base::Result<Edge> make_edge(const dish::Outline& outline, const std::string& place);

/// A disc about the origin, with a hole.
Edge ring_edge(double outer_radius_m, double hole_radius_m);

/// A polygon of four corners whose opposite sides are equal.
bool is_parallelogram(const Edge& edge);

bool is_inside(const Edge& edge, double u, double v);

/// Maps the unit square to the outline so that equal areas stay equal.
base::Vec2 sample(const Edge& edge, double x, double y);

/// Points around the outline, anticlockwise: a polygon's corners, or about `round_points` on
/// curves.
std::vector<base::Vec2> boundary(const Edge& edge, int round_points);

}  // namespace optics
