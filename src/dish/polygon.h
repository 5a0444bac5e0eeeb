// Plane polygons: area, centroid, hull, and whether two of them overlap.
#pragma once

#include <vector>

#include "base/vec.h"

namespace dish {

/// Corners in order; the last joins the first.
using Corners = std::vector<base::Vec2>;

/// Positive when the corners go anticlockwise; zero below three corners.
/// Source: the shoelace formula, taken about the first corner so that a polygon far from the
/// origin keeps its digits.
double signed_area(const Corners& polygon);

/// Centre of area. The area must not be zero.
base::Vec2 centroid(const Corners& polygon);

/// Whether every corner turns left or goes straight on, once around. Corners that repeat or lie in
/// a line are allowed; fewer than three corners, or no area, are not convex.
bool is_convex(const Corners& polygon);

/// Inside or on the edge of a convex anticlockwise polygon.
bool contains(const Corners& convex, const base::Vec2& point);

/// Convex hull, anticlockwise, without corners in a line, starting at the leftmost (lowest of
/// those). Fewer than three corners when the points have no area.
/// Source: Andrew's monotone chain (textbook); sorted, so independent of the points' order.
Corners convex_hull(Corners points);

/// How far two convex anticlockwise polygons reach into each other: the least shift that parts
/// them; zero or less when they are apart (then it is no distance).
/// Source: separating axes; the least overlap over all edge normals (textbook).
double overlap_depth(const Corners& a, const Corners& b);

}  // namespace dish
