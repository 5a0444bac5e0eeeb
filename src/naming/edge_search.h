// The search for the edge's motions and the pairs of spots and cells that go with them.
#pragma once

#include <cstddef>
#include <vector>

#include "base/assignment.h"
#include "naming/edge_motion.h"
#include "naming/edge_sweep.h"

namespace naming {

/// Two crossings while they are worked on.
struct SweepWork {
  const IdentifyTarget& target;
  const std::vector<Sweep>& sweeps;
  SweepSettings settings;
  std::vector<std::size_t> timed;             ///< spots that both sweeps tell of
  std::vector<std::vector<double>> places_m;  ///< of each sweep and cell, along its direction
  std::vector<EdgeScale> scales;
  std::vector<EdgeMotion> motions;
};

/// The way along a sweep's direction and the times on it; sweeps in their order.
void set_scale(SweepWork& work, std::size_t sweep);

/// Where a sweep puts a spot by all pairs but its own, and the variance of that with its own
/// time's, m and m^2. Source: residuals with one left out, e / (1 - h), any textbook of regression.
struct Prediction {
  double place_m = 0.0;
  double variance_m2 = 0.0;
};
Prediction prediction_of(const SweepWork& work, std::size_t sweep, std::size_t timed,
                         std::size_t own_cell);

/// Costs of giving spots to cells, each by the motion that the other pairs tell.
base::CostTable sweep_costs(const SweepWork& work, const base::Assignment& now);

struct MotionSearch {
  base::Assignment assigned;
  /// By how much it costs more than a right answer should, in standard deviations of that.
  double excess_sigmas = 0.0;
};

/// The cheapest pairs and motions of several starts and of what lies around the best of them; the
/// work keeps the motions. In a lattice with holes many shifted and bent motions fit almost as
/// well, and none leads to a better one by small steps: each is freed by whole steps of the pitch.
MotionSearch search_motions(SweepWork& work, double pitch_m);

}  // namespace naming
