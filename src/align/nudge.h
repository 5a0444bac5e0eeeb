// The commissioning nudge: two facets, each screw alone by half a turn, and every doubt about hand,
// numbers, thread and side is settled before any real turn.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "align/history.h"
#include "align/labels.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

inline constexpr double k_nudge_turns = 0.5;

/// Two facets to begin with: among those on the mount most facets have, and within the middle half
/// of their distances from the axis, the two that stand farthest apart. One, when there is only
/// one. Common practice, no source.
std::vector<std::size_t> nudge_facets(const dish::Dish& dish);

/// What to do, step by step: look, then for each screw turn it half a turn clockwise and look
/// again.
std::vector<std::string> nudge_steps(const dish::Dish& dish,
                                     const std::vector<std::size_t>& facets);

/// What the four looks at one facet say: a column of F from each pair.
struct NudgeReading {
  std::size_t facet = 0;
  Response measured{};           ///< m per turn
  Response nominal{};            ///< as the file has it
  double sigma_m = 0.0;          ///< per axis, of a column
  std::array<double, 3> gain{};  ///< measured along nominal, of nominal
};

struct NudgeVerdict {
  std::vector<NudgeReading> readings;
  LabelVerdict labels;   ///< pooled over both facets
  std::string sentence;  ///< hand, numbers, thread and side, in words
};

/// From the looks after each nudge (four for each facet: before, and after screws 1, 2 and 3 of the
/// mount's order). Problems: facets that cannot be set up, spots off any possible reflection.
base::Result<NudgeVerdict> read_nudge(const dish::Dish& dish, const Sighting& sighting,
                                      const std::vector<std::size_t>& facets,
                                      const std::vector<std::array<base::Vec2, 4>>& seen_m,
                                      double spot_sigma_m = 0.002);

}  // namespace align
