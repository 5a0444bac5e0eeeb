// A facet's outline cut into cells: the quadrature of the quick evaluation.
#pragma once

#include <array>
#include <vector>

#include "base/vec.h"
#include "optics/outline.h"

namespace optics {

/// One cell by its moments, exact for the cell.
struct FacetNode {
  base::Vec2 uv{0.0, 0.0};                    ///< centroid
  double share = 0.0;                         ///< of the outline's area; all together 1
  double uu = 0.0, uv_cross = 0.0, vv = 0.0;  ///< covariance, m2
  /// Two sides of a parallelogram about `uv`, or of a triangle from its first corner; of a patch of
  /// a ring its depth and its arc at the middle.
  base::Vec2 along{0.0, 0.0}, across{0.0, 0.0};
  bool is_triangle = false;
};

/// About `wanted` cells of equal area and compact form: parallelograms of a parallelogram or
/// regular hexagon, triangles about the middle of another polygon, patches of rings; one: the
/// whole. Order is fixed by the outline alone.
std::vector<FacetNode> facet_nodes(const Edge& edge, int wanted);

/// A node cut into four alike; of a patch of a ring by its two sides.
std::array<FacetNode, 4> quarters(const FacetNode& node);

/// How far the corners of a node's shape lie from its middle.
double radius_of(const FacetNode& node);

}  // namespace optics
