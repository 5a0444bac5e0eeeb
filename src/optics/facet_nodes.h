// A facet's outline cut into cells: the quadrature of the quick evaluation.
#pragma once

#include <vector>

#include "base/vec.h"
#include "optics/outline.h"

namespace optics {

/// One cell by its moments, exact for the cell.
struct FacetNode {
  base::Vec2 uv{0.0, 0.0};                    ///< centroid
  double share = 0.0;                         ///< of the outline's area; all together 1
  double uu = 0.0, uv_cross = 0.0, vv = 0.0;  ///< covariance, m2
};

/// About `wanted` cells of equal area and compact form: triangles about the middle of a polygon,
/// rectangles of a rectangle, patches of rings. Order is fixed by the outline alone.
std::vector<FacetNode> facet_nodes(const Edge& edge, int wanted);

}  // namespace optics
