// The commissioning nudge: two facets, each screw alone by half a turn, and every doubt about hand,
// numbers, thread and side is settled before any real turn. It stands in the log as four rounds.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "align/labels.h"
#include "base/result.h"
#include "dish/dish.h"
#include "dish/edit.h"

namespace align {

inline constexpr double k_nudge_turns = 0.5;
inline constexpr std::size_t k_nudge_looks = 4;  ///< before, and after each screw

/// Two facets to begin with: among those on the mount most facets have, and within the middle half
/// of their distances from the axis, the two that stand farthest apart. One, when there is only
/// one. Common practice, no source.
std::vector<std::size_t> nudge_facets(const dish::Dish& dish);

/// The nudge as far as it has come. The round of look `looks` - 1 is the last of it.
struct Nudge {
  std::size_t first_round = 0;
  std::size_t looks = 1;            ///< rounds of it in the log, 1..4
  std::vector<std::size_t> facets;  ///< indices into the dish
  bool is_seen = false;             ///< the last look holds a spot of every facet
};

/// Name of the round that holds a look; the nudge is known by these names.
std::string nudge_round_name(std::size_t look);
bool is_nudge_round(const dish::Round& round);

/// The newest nudge of the log; nothing without one.
std::optional<Nudge> nudge_in_log(const dish::Dish& dish);
inline bool is_over(const Nudge& nudge) { return nudge.looks == k_nudge_looks && nudge.is_seen; }

/// What to do now, in one sentence.
std::string nudge_step(const dish::Dish& dish, const Nudge& nudge);

/// After a look that is seen and is not the last: the next screw of every facet was turned half a
/// turn clockwise, and the next look begins. Problems: those of `set_up`, a look that is not seen.
base::Result<std::vector<dish::Edit>> next_nudge(const dish::Dish& dish, const Nudge& nudge);

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
base::Result<NudgeVerdict> read_nudge(
    const dish::Dish& dish, const Sighting& sighting, const std::vector<std::size_t>& facets,
    const std::vector<std::array<base::Vec2, k_nudge_looks>>& seen_m, double spot_sigma_m = 0.002);

/// The same of a nudge that is over.
base::Result<NudgeVerdict> read_nudge(const dish::Dish& dish, const Nudge& nudge,
                                      double spot_sigma_m = 0.002);

}  // namespace align
