// Geometry of one outline: area, reach, corners, centre of area, inside or not.
#pragma once

#include <vector>

#include "base/vec.h"
#include "dish/outline.h"
#include "dish/polygon.h"

namespace dish {

/// Corners of a circle where one is drawn as a polygon.
inline constexpr int k_arc_points = 96;

/// Exact area. Source: closed forms (hexagon sqrt(3)/2 w^2, sector (R^2 - r^2) angle / 2).
double outline_area(const Outline& outline);

/// Distance from the facet's centre to the furthest point of the outline. Exact.
double bounding_radius(const Outline& outline);

/// Half the narrowest width: how far a margin along the edge can reach inward from everywhere.
/// Of a polygon, the distance of its centre of area from the nearest side; of a petal, half its
/// depth, or that distance to its straight sides where it is less.
double narrow_half_width(const Outline& outline);

/// The outline as a polygon, anticlockwise; every corner lies on the outline. A disc has
/// `arc_points` corners; each arc of a sector is cut into arc_points / 4 chords, so its polygon is
/// not convex when it has an inner radius. Straight outlines ignore it. At least 8.
/// Chords of a circle of radius R cut into n parts leave it by R (1 - cos(pi / n)): 0.05 % for 96.
Corners outline_corners(const Outline& outline, int arc_points = k_arc_points);

/// Inside or on the edge, with the true arcs.
bool contains(const Outline& outline, const base::Vec2& point);

/// Centre of area, exact. Source: sector 2 sin(a/2) (R^3 - r^3) / (3 (a/2) (R^2 - r^2)) from the
/// apex (textbook).
base::Vec2 outline_centroid(const Outline& outline);

/// True when the straight line between any two points of the outline stays inside: all but petals
/// with an inner radius, and polygons with a corner that points inward.
bool is_convex(const Outline& outline);

/// The outline as convex polygons that together cover it: itself when it is convex (a disc as by
/// outline_corners), else slices of a sector between straight lines through its apex.
std::vector<Corners> convex_pieces(const Outline& outline, int arc_points = k_arc_points);

}  // namespace dish
