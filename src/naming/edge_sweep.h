// Names by an edge that crosses the dish: each spot goes out when the edge passes its facet, so two
// crossings tell where on the dish each spot comes from, wherever it lies on the board.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/result.h"
#include "naming/identify.h"

namespace naming {

/// One crossing of an opaque edge.
struct Sweep {
  /// Where the edge moves to, anticlockwise from the dish's +x as seen from the sun.
  double direction_rad = 0.0;
  /// When each spot went out, in the order of the spots; any unit, rising as the edge moves.
  std::vector<std::optional<double>> out_at;
};

/// Directions of two crossings for which no two facets of a hexagonal or square lattice tie.
inline constexpr double k_first_sweep_rad = 0.19024088846738194;  ///< 10.9 degrees
inline constexpr double k_second_sweep_rad = 1.7610372152622786;  ///< 100.9 degrees

/// When spots went out, from how much of each one's light the frames still show (frame by frame, 1:
/// all of it): half way through the step that takes most of it, between two frames in proportion,
/// which is when the edge passes the middle of the facet's hole. Nothing for a spot of which no
/// step takes seven tenths: it is still there at the end, or shares its place with others.
std::vector<std::optional<double>> times_dimmed(const std::vector<std::vector<double>>& left,
                                                const std::vector<double>& times);

struct SweepSettings {
  double timing_sigma_m = 0.025;  ///< how well a time tells the edge's place
  double detection = 0.99;
  double false_spots = 0.1;
  double least_rise = 4.6;
  double most_rise = 9.2;
  double most_distance2 = 14.0;
};

/// Gives spots to cells by where the crossings say that they come from. The edge's place is a
/// cubic of time, fitted to the pairs and the pairs to it by turns, starting from the order alone;
/// a pair is judged by the motion that the others tell, or a spot at the rim would bend its own.
/// A spot of two facets' light is nobody's, because it goes out in two steps.
/// Problems: other than two sweeps, times that do not belong to the spots, fewer than six spots
/// with both times.
base::Result<Identification> identify_by_sweeps(const IdentifyTarget& target,
                                                const std::vector<BoardSpot>& spots,
                                                const std::vector<Sweep>& sweeps,
                                                const SweepSettings& settings);

}  // namespace naming
