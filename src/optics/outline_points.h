// Points and shares over an outline that average smooth functions exactly, or nearly: for moments
// of a facet's image, where a grid of cells would lose what lies within each cell.
#pragma once

#include <vector>

#include "optics/outline.h"

namespace optics {

struct OutlinePoint {
  base::Vec2 uv{0.0, 0.0};
  double share = 0.0;  ///< of the area; all together 1
};

/// Polygons: seven points for each triangle about the middle, exact for polynomials to degree five.
/// Rings: Gauss in r^2 and even angles, exact to degree five; sectors: Gauss in both.
/// Sources: Strang & Fix, An Analysis of the Finite Element Method, table 4.1, seven-point rule;
/// Abramowitz & Stegun 25.4.30 and table 25.4.
std::vector<OutlinePoint> outline_points(const Edge& edge);

}  // namespace optics
