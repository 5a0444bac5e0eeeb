// How far the quick evaluation of a dish is from its full trace.
#pragma once

#include <cstdint>

#include "dish/dish.h"

namespace support {

/// Over 64 x 64 cells of the map; shares are of the traced peak.
struct LightDifference {
  double worst_of_peak = 0.0;
  double noise_of_peak = 0.0;  ///< of the trace in the brightest cell, one deviation
  /// Worst beyond three and a half deviations of each cell's own noise.
  double worst_beyond_noise = 0.0;
  double rms_of_peak = 0.0;
  double intercept = 0.0;
  double centroid_m = 0.0;
};

/// Cells hold counts of rays: the noise of a cell is the root of its number of rays, of which the
/// low discrepancy of the points only takes away. Both evaluations must succeed.
LightDifference light_difference(const dish::Dish& dish, std::uint64_t rays, int workers);

}  // namespace support
