// Curves read from a flux map: cuts through it, and the power within a circle.
#pragma once

#include <vector>

#include "optics/trace_result.h"

namespace optics {

struct Curve {
  std::vector<double> x;
  std::vector<double> y;
};

enum class Cut { along_right, along_up };

/// Flux (W/m2) over place (m) along a line through `through`, linear between the middles of the
/// map's cells; as many points as the map has cells that way. Empty without a map.
Curve cut_through(const FluxMap& map, Cut direction, const base::Vec2& through);

/// Share of `plane_W` (0..1) within a circle about `centre` over its radius (m), from 0 to where
/// the circle meets the map's edge. A cell counts by the share of it that lies inside, taken as a
/// disc of its area cut by a straight line.
Curve encircled_power(const FluxMap& map, const base::Vec2& centre, double plane_W,
                      int points = 97);

}  // namespace optics
