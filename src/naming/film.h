// Names from a film: frames at even times of an edge that crosses the dish twice.
#pragma once

#include <vector>

#include "base/result.h"
#include "naming/edge_sweep.h"
#include "naming/identify.h"

namespace naming {

/// The frames of one crossing, in their order.
struct FilmedCrossing {
  /// Where the edge moves to, anticlockwise from the dish's +x as seen from the sun.
  double direction_rad = k_first_sweep_rad;
  /// How much of each spot's light each frame still shows, 1: all of it; spots in one order.
  std::vector<std::vector<double>> left;
};

inline constexpr std::size_t k_least_frames = 4;  ///< of a crossing; twenty or so are good

/// `identify_by_sweeps` with the times of `times_dimmed`, judged by how far the edge moves between
/// two frames. Problems: theirs, and other than two crossings of at least `k_least_frames` frames.
base::Result<Identification> identify_by_film(const IdentifyTarget& target,
                                              const std::vector<BoardSpot>& spots,
                                              const std::vector<FilmedCrossing>& crossings);

}  // namespace naming
