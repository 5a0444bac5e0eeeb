// How far a point of a facet lies from the facet's edge, and which way.
#pragma once

#include "base/vec.h"
#include "optics/outline.h"

namespace optics {

struct EdgeDistance {
  double distance_m = 0.0;       ///< to the nearest side or arc; negative outside
  base::Vec2 outward{1.0, 0.0};  ///< unit, toward it
};

/// Of equally near sides the first counts.
EdgeDistance edge_distance(const Edge& edge, const base::Vec2& uv);

}  // namespace optics
