// How far the quick evaluation of a dish is from its full trace. In its header, because most
// programs that share scenes know nothing of light.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "base/check.h"
#include "optics/live.h"
#include "optics/trace.h"

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
inline LightDifference light_difference(const dish::Dish& dish, std::uint64_t rays, int workers) {
  constexpr int k_cells = 64;
  const auto live = optics::evaluate(dish, {.map_cells = k_cells});
  const auto trace = optics::trace(dish, {.rays = rays, .map_cells = k_cells, .workers = workers});
  BASE_CHECK(live.ok() && trace.ok(), "the dish can be lit both ways");
  const optics::TraceResult& quick = live.value().figures;
  const optics::TraceResult& full = trace.value();
  BASE_CHECK(full.map.flux_W_m2.size() == quick.map.flux_W_m2.size(), "both maps are alike");
  const double cell = full.map.size_m.x / full.map.columns;
  const double ray_W = full.power_reflected_W / static_cast<double>(full.rays);
  const auto noise_of = [&](double flux) {
    return std::sqrt(std::max(flux, 0.0) * ray_W) / cell;  // root of the rays, each ray_W / cell^2
  };
  const double peak = *std::max_element(full.map.flux_W_m2.begin(), full.map.flux_W_m2.end());
  LightDifference found{.noise_of_peak = noise_of(peak) / peak};
  double squares = 0.0;
  for (std::size_t k = 0; k < full.map.flux_W_m2.size(); ++k) {
    const double flux = full.map.flux_W_m2[k];
    const double off = std::abs(quick.map.flux_W_m2[k] - flux);
    found.worst_of_peak = std::max(found.worst_of_peak, off / peak);
    found.worst_beyond_noise =
        std::max(found.worst_beyond_noise, (off - 3.5 * noise_of(flux)) / peak);
    squares += off * off / (peak * peak);
  }
  found.rms_of_peak = std::sqrt(squares / static_cast<double>(full.map.flux_W_m2.size()));
  found.intercept = std::abs(quick.intercept_factor - full.intercept_factor);
  found.centroid_m = glm::distance(quick.centroid_m, full.centroid_m);
  return found;
}

}  // namespace support
