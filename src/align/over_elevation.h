// Common errors over elevation: what gravity bends moves with the dish, what the tracker is off by
// does not. Told apart from rounds that were seen at different elevations.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "align/common.h"
#include "align/history.h"
#include "align/learning.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

/// One mode as b + g cos(elevation); m, or m per m of radius, as in `ModeFit`.
struct ModeOverElevation {
  Mode mode = Mode::shift_x;
  double constant = 0.0;  ///< b, of the last round: what is left when the axis points up
  double constant_sigma = 0.0;
  double per_cosine = 0.0;  ///< g
  double per_cosine_sigma = 0.0;
  double change_m = 0.0;     ///< of the outermost spot, from the lowest elevation to the highest
  bool significant = false;  ///< g beyond 3 sigma, and its change worth more than the threshold
  std::string sentence;      ///< what it is and where to correct it; empty when not significant
};

struct OverElevation {
  std::vector<ModeOverElevation> modes;
  std::size_t rounds = 0;  ///< that tell their elevation
  double lowest_rad = 0.0;
  double highest_rad = 0.0;
  std::string note;  ///< why there is nothing, or what could not be told
};

/// Cosines of the elevations that differ by less say nothing of gravity. Common practice, no
/// source.
inline constexpr double k_least_cosine_range = 0.15;

/// From facets that were seen in every round with an elevation: each look less the turns logged
/// before it, less the facet's mean, gives a round's modes without the facets' own tilts; their
/// slope over cos(elevation) is gravity's part. Gravity across the axis goes as the cosine.
/// Source: b(E) = b + g cos E, derived from a frame that bends in proportion to its load.
/// `least_m`: changes below it are not worth acting on. Nothing to tell is a note, not a problem.
OverElevation over_elevation(const dish::Dish& dish, const std::vector<FacetHistory>& histories,
                             const Sighting& sighting, const LearningRequest& learning,
                             double least_m);

}  // namespace align
