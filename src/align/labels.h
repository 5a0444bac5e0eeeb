// Which screw is which, and which way it turns: mistakes of labels, hand, side and thread, weighed
// against what the spots did.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "align/history.h"
#include "align/learning.h"
#include "dish/dish.h"

namespace align {

/// One way the hardware may differ from the file.
struct Hypothesis {
  Wiring wiring;
  std::string words;   ///< "screws 1 and 3 are interchanged"
  std::string advice;  ///< what to do about it
};

/// The fifteen of one facet: six orders of the numbers, each with all screws right or all opposite,
/// and one screw opposite alone. The first is that the file is right.
std::vector<Hypothesis> facet_hypotheses(const dish::Mount& mount);

/// Those of a whole dish, where one person makes one kind of mistake: the fifteen, drawings that
/// were turned or mirrored, and every other coarse and fine lead of ISO metric threads.
std::vector<Hypothesis> fleet_hypotheses(const dish::Mount& mount);

/// ISO metric threads a builder meets: nominal diameter, coarse pitch, first fine pitch.
/// Source: ISO 261:1998 and ISO 262:1998 (selected sizes), pitches in mm.
struct MetricThread {
  const char* name;
  double pitch_m;
};
const std::vector<MetricThread>& metric_threads();

/// Prior share of "the file is right"; act on another above `k_act`; warn when the file's share
/// falls below `k_warn`. Common practice, no source.
inline constexpr double k_prior_right = 0.9;
inline constexpr double k_act = 0.95;
inline constexpr double k_warn = 0.05;

struct LabelVerdict {
  dish::MountName mount;               ///< that is judged, of one facet or of all on it
  std::vector<Hypothesis> hypotheses;  ///< those that can be told apart, the first "right"
  std::vector<double> share;           ///< posterior, sums to 1
  std::size_t best = 0;
  double odds = 1.0;     ///< best against the file's; for the file, against the next best
  bool warn = false;     ///< the file is probably wrong
  bool act = false;      ///< and it is known how
  std::string sentence;  ///< empty when all is well or nothing is known
};

/// One facet's labels by its own moves. Log likelihood: sum of predictive densities of its looks,
/// with the screws' gains learned on the way.
LabelVerdict judge_facet(const dish::Dish& dish, const FacetHistory& history,
                         const LearningRequest& request);

/// The same pooled over the facets of one mount. Hypotheses that nearly do the same on this mount
/// (three screws at equal angles, turned by 120 degrees and renumbered) are one, told with "or".
LabelVerdict judge_fleet(const dish::Dish& dish, const std::vector<FacetHistory>& histories,
                         const dish::Mount& mount, const Sighting& sighting,
                         const LearningRequest& request);

/// Log likelihood of a history under other turns or another response than it holds.
double log_likelihood(const FacetHistory& history, const std::vector<Response>& responses,
                      const std::vector<Turns>& turns, const LearningRequest& request);

/// Two facets of which each received the turns of the other.
struct Swap {
  std::size_t facet = 0;      ///< whose spot it is, index into the dish
  std::size_t turned_as = 0;  ///< whose turns it received
  double log_odds = 0.0;      ///< against its own
};

/// Assignment of turns to facets of greatest total log likelihood, with a bonus for every facet
/// that received its own. Facets that were seen in the same rounds are compared with one another;
/// with more than `k_most_swapped`, only those whose moves contradict the log.
/// Source: maximum-likelihood assignment (Munkres 1957); the bonus of 6 is a choice.
std::vector<Swap> find_swaps(const dish::Dish& dish, const std::vector<FacetHistory>& histories,
                             const LearningRequest& request);
inline constexpr double k_own_turns_bonus = 6.0;
inline constexpr std::size_t k_most_swapped = 80;

std::string sentence_of(const dish::Dish& dish, const Swap& swap);

}  // namespace align
