// Learning from round to round: how each screw really moves its spot, and which logged moves do
// not fit what the log says was turned.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "align/history.h"
#include "align/learned_screws.h"
#include "align/screw_filter.h"
#include "dish/dish.h"

namespace align {

struct LearningRequest {
  ScrewPrior prior;
  double turn_sigma_turns = 1.0 / 12.0;
  /// Turns that a screw loses when its direction changes, by the mount's name; see
  /// `learn_backlash`.
  std::vector<std::pair<dish::MountName, double>> backlash_turns{};
};

/// Of a mount; 0 when none was learned.
double backlash_of(const LearningRequest& request, const dish::MountName& mount);

/// A move of chi-squared beyond this (2 degrees of freedom, 0.1 %) contradicts the log.
/// Source: chi-squared table, 13.816.
inline constexpr double k_contradiction = 13.815510557964274;

/// Gains that a working screw can have; learning that leaves these bounds is refused.
/// Common practice, no source.
inline constexpr double k_least_gain = 0.4;
inline constexpr double k_most_gain = 2.0;

/// What may have happened instead of what the log says.
enum class Mishap {
  none,
  nothing_turned,
  screw_stuck,     ///< one screw did not move its corner
  screw_backward,  ///< one screw was turned the other way
  all_backward,
  other_screw,  ///< another screw was turned instead of this one
  unknown,
};

struct MoveReport {
  std::size_t facet = 0;       ///< index into the dish
  std::size_t from_round = 0;  ///< looks before and after it
  std::size_t to_round = 0;
  bool turned = false;
  base::Vec2 expected_m{0.0, 0.0};
  base::Vec2 seen_m{0.0, 0.0};
  double surprise = 0.0;  ///< Mahalanobis distance squared
  Mishap mishap = Mishap::none;
  std::size_t screw = 0;  ///< that it concerns
  std::size_t other = 0;  ///< for other_screw: the one that was turned
  std::string sentence;   ///< empty when the move fits
};

struct FacetLearning {
  std::size_t facet = 0;
  ScrewFilter filter;
  std::vector<MoveReport> moves;
  std::array<bool, 3> learned{};       ///< screws that some fitting move turned
  std::array<std::string, 3> refused;  ///< why a screw's gain was not taken over
};

/// One facet: its looks one after the other. A move that contradicts the log teaches nothing about
/// the screws; the spot is then believed anew.
FacetLearning learn(const dish::Dish& dish, const FacetHistory& history,
                    const LearningRequest& request);

/// What a plan needs of it; nothing when no move taught anything.
std::optional<LearnedScrews> learned_screws(const FacetLearning& learning);

/// Turns that really moved the corners: each that changed direction lost the mount's backlash.
Turns effective_turns(const dish::Dish& dish, const FacetHistory& history, const Move& move,
                      const LearningRequest& request);

/// What screws of one kind of mount lose when their direction changes.
struct Backlash {
  dish::MountName mount;
  double turns = 0.0;
  double sigma_turns = 0.0;
  std::size_t reversals = 0;  ///< screws that changed direction, over all moves
  bool shown = false;         ///< beyond 3 sigma: the data show it, and learning uses it
};

/// Per mount, not per screw: weighted least squares of what all moves lack along the columns of the
/// screws that changed direction, z - F t = -F sign(t) min(|t|, b) [reversed]; a small turn is lost
/// whole. At most one turn. Source: derived.
std::vector<Backlash> learn_backlash(const dish::Dish& dish,
                                     const std::vector<FacetHistory>& histories,
                                     const LearningRequest& request);

}  // namespace align
