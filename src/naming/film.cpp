// From frames to the times at which spots went out, equally spaced within a crossing.
#include "naming/film.h"

#include <fmt/format.h>

#include <algorithm>

namespace naming {
namespace {

constexpr double k_finest_edge_m = 0.02;
/// Standard deviation of an even spread, for an edge that is somewhere between two frames.
constexpr double k_even_sigma = 0.2887;

/// How far the edge moves from frame to frame, as an uncertainty of its place.
double edge_sigma_m(const IdentifyTarget& target, std::size_t frames) {
  double radius = 0.0;
  for (const Cell& cell : target.cells) radius = std::max(radius, glm::length(cell.place_m));
  const double step = 2.0 * radius / static_cast<double>(frames);
  return std::max(k_finest_edge_m, k_even_sigma * step);
}

/// The whole dish is seen at time 0.
Sweep sweep_of(const FilmedCrossing& crossing, std::size_t spots) {
  std::vector<std::vector<double>> left{std::vector<double>(spots, 1.0)};
  left.insert(left.end(), crossing.left.begin(), crossing.left.end());
  std::vector<double> times;
  for (std::size_t k = 0; k < left.size(); ++k) times.push_back(static_cast<double>(k));
  return {crossing.direction_rad, times_dimmed(left, times)};
}

}  // namespace

base::Result<Identification> identify_by_film(const IdentifyTarget& target,
                                              const std::vector<BoardSpot>& spots,
                                              const std::vector<FilmedCrossing>& crossings) {
  if (crossings.size() != 2) {
    return base::Problem{"the film", fmt::format("{} crossings", crossings.size()), "two"};
  }
  std::size_t fewer = crossings[0].left.size();
  std::vector<Sweep> sweeps;
  for (const FilmedCrossing& crossing : crossings) {
    fewer = std::min(fewer, crossing.left.size());
    for (const std::vector<double>& frame : crossing.left) {
      if (frame.size() == spots.size()) continue;
      return base::Problem{"the film", "frames that do not tell of every spot", "to be read again"};
    }
    sweeps.push_back(sweep_of(crossing, spots.size()));
  }
  if (fewer < k_least_frames) {
    return base::Problem{"the film", fmt::format("a crossing of {} frames", fewer),
                         fmt::format("twenty or so, at least {}", k_least_frames)};
  }
  return identify_by_sweeps(target, spots, sweeps, {.timing_sigma_m = edge_sigma_m(target, fewer)});
}

}  // namespace naming
