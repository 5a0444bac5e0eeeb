// What the full trace and the quick evaluation share when they turn sums into figures.
#pragma once

#include "optics/scene.h"
#include "optics/spot_grid.h"
#include "optics/trace_result.h"

namespace optics {

/// Watts per unit of the counted maps: 2^-56 of the sunlight on all outlines.
double light_unit_W(const Scene& scene);

/// Completes figures whose ledger accounts, powers, centroid and rms are set: incident light, gaps
/// and cosine, the receiver's two accounts, ratios, peak and radii. `caught_W` is the sunlight on
/// all outlines.
void finish_figures(const Scene& scene, const PlaneLight& light, double caught_W,
                    TraceResult& result);

}  // namespace optics
