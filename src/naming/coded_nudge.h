// Names by a coded nudge: every facet gets one of seven small turns, unlike its neighbours', and
// the way its spot moves between two photographs tells which it was.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "naming/identify.h"
#include "naming/told_turns.h"

namespace naming {

inline constexpr double k_code_turns = 0.75;

/// One nudge for each facet: none, or +-0.75 turn of one of its screws; neighbours differ (the
/// colouring of `cover_in` with seven groups). Turns are rounded to whole clicks of the mount.
/// Problems: those of `align::set_up`.
base::Result<std::vector<ToldTurns>> coded_nudges(const dish::Dish& dish);

/// Two photographs, before and after the nudges, all facets uncovered in both.
struct NudgedLooks {
  std::vector<BoardSpot> before;
  std::vector<BoardSpot> after;
};

struct NudgedFinding {
  Finding finding;        ///< its spot is one of `before`
  std::size_t after = 0;  ///< the same facet's spot in `after`
  bool has_after = false;
};

/// Assigns the first photograph's spots by their place and by how they moved: the cost of a pair
/// is that of `identify` and that of the best spot of the second photograph for the expected move,
/// or of none there. A second spot that two facets claim counts for neither.
/// Facets without a pair of spots are missing. Problems: as in `identify`.
base::Result<std::vector<NudgedFinding>> identify_nudged(
    const dish::Dish& dish, const align::Sighting& sighting, const std::vector<FacetPrior>& priors,
    const std::vector<ToldTurns>& nudges, const NudgedLooks& looks,
    const IdentifySettings& settings, const Hands& hands);

}  // namespace naming
