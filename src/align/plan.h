// The whole dish: from a round's spots and readings to what every screw should do, with the errors
// all facets share told apart.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "align/common.h"
#include "align/correct.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

struct PlanRequest {
  Piston piston = Piston::fewest_turns;
  std::string held_screw;                ///< label, for hold_screw
  std::array<bool, k_modes> left_out{};  ///< common modes that are corrected elsewhere
  std::optional<int> clicks_per_turn;    ///< instead of the mount's
  bool spot_is_centroid = false;         ///< the seen spot is the middle of the whole facet's light
  bool secondary_in_place = true;        ///< false: taken off for this round
  Pivot pivot = Pivot::mount;
  double spot_sigma_m = 0.002;                       ///< per axis, for spots that bring none
  double lean_sigma_rad = ReadingSigmas{}.lean_rad;  ///< for inclinometer readings likewise
  double height_sigma_m = ReadingSigmas{}.height_m;  ///< for measured heights likewise
  double turn_sigma_turns = 1.0 / 12.0;
  bool use_learning = true;    ///< screws move as earlier rounds of the dish show, not as filed
  bool average_looks = false;  ///< believe the filtered spot, so that looks at rest average
};

struct Plan {
  std::optional<CommonErrors> common;     ///< absent when there are too few spots
  std::string common_note;                ///< why there is none
  std::vector<Correction> facets;         ///< those observed, in the dish's order
  std::vector<dish::FacetId> unmeasured;  ///< the others
  base::Problems problems;                ///< readings that could not be used, naming their facet
  double rms_tilt_rad = 0.0;              ///< of the facets above, before
  double rms_residual_rad = 0.0;          ///< after the told clicks, if hands and spots were exact
  double expected_rms_rad = 0.0;          ///< after them, with the noise of reading and turning
  std::size_t to_turn = 0;                ///< facets whose verdict is to turn
  std::string verdict;                    ///< what to do with the dish as a whole
  std::string caution;                    ///< what must not be done with this light
  std::vector<std::string> doubts;        ///< earlier moves that contradict the log
};

/// Corrections for every facet with a spot, inclinometer readings or measured heights. Common
/// errors are told from spots alone. Rounds of the dish that came before this one (see
/// `rounds_before`) teach how far each screw moves its spot, unless learning is switched off.
/// Problems (the whole plan fails): nothing observed, what `problems_of_gauged` finds, a facet
/// that the dish does not have or that has two spots, a spot or sigma that is no number, modes left
/// out that could not be estimated, a number of clicks outside 1..360, a spot that is taken as a
/// centroid with a lamp. A facet that cannot be solved is a problem within the plan.
base::Result<Plan> make_plan(const dish::Dish& dish, const dish::Round& round,
                             const PlanRequest& request);

}  // namespace align
