// The log of rounds told as a story: what was predicted, what came, how fast it converges, what is
// still to be had, and which rounds contradict themselves.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "align/labels.h"
#include "align/learning.h"
#include "align/over_elevation.h"
#include "align/plan.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

struct StoryRequest {
  PlanRequest plan;    ///< light readings, noise, what is left to others
  bool watts = true;   ///< also light the dish as it is and as it would be
  bool labels = true;  ///< also weigh mistakes of labels, hand, thread and side
  unsigned seed = 1;   ///< of the hands' error in the outlook
};

/// One facet in one round.
struct FacetInRound {
  dish::FacetId id;
  base::Vec2 seen_error_m{0.0, 0.0};           ///< from where a perfect facet's spot would lie
  std::optional<base::Vec2> expected_error_m;  ///< by the round before and its turns
  double tilt_rad = 0.0;
  bool turned = false;  ///< after this round
  Verdict verdict = Verdict::turn;
  std::string doubt;  ///< its move since the last look contradicts the log
};

struct RoundInStory {
  std::string name;
  std::size_t seen = 0;
  std::size_t turned = 0;          ///< facets
  double turns = 0.0;              ///< of all screws, absolute
  double rms_tilt_rad = 0.0;       ///< as read
  double expected_next_rad = 0.0;  ///< if it was turned as its plan says
  std::string problem;             ///< why it could not be worked out; empty when it could
  std::vector<FacetInRound> facets;
};

/// e' = gamma e + floor.
struct Convergence {
  std::size_t moves = 0;    ///< that were looked at afterwards
  double gain_error = 0.0;  ///< mean along the moves: (moved - told) / told
  double gain_error_sigma = 0.0;
  double gamma = 0.0;      ///< rms of the same over moves, reading and hands taken off
  double floor_rad = 0.0;  ///< tilt (both axes) that reading, hands and whole clicks leave
  int rounds_left = 0;     ///< until the floor, at this pace
};

/// Number of rounds from an error to the floor: ceil(ln(e0 / floor) / ln(1 / gamma)), 0 when it is
/// there; gamma within 1e-6 and 0.999. Source: derived.
int rounds_needed(double error_rad, double floor_rad, double gamma);

/// What is to be had from stopping now and from one round more. The facets are posed with what is
/// left of each: a whole facet's tilt moves its spot, which an extra slope error for all would
/// smear. Readings are shrunk to the tilt that remains when their noise is taken off; after a round
/// the told clicks are made with the hands' and the readings' error, drawn four times.
struct Outlook {
  double now_rad = 0.0;         ///< rms tilt, reading noise taken off
  double after_rad = 0.0;       ///< expected after one round more
  std::optional<double> now_W;  ///< on the receiver
  std::optional<double> after_W;
  std::optional<double> perfect_W;  ///< every facet at its aim
  std::string note;                 ///< why there are no watts
};

struct RoundsStory {
  std::vector<RoundInStory> rounds;
  Convergence convergence;
  Outlook outlook;
  std::vector<LabelVerdict> labels;        ///< of each mount with logged moves, whole dish
  std::vector<LabelVerdict> facet_labels;  ///< of single facets, those that warn
  std::vector<std::string> swaps;
  std::vector<Backlash> backlash;
  OverElevation over_elevation;
  std::vector<std::string> doubts;
  std::string verdict;  ///< for the dish, with the last round
};

/// Problems: no rounds, a request that no plan accepts. Rounds that cannot be worked out are told
/// within the story.
base::Result<RoundsStory> tell_rounds(const dish::Dish& dish, const StoryRequest& request);

/// What the story says of gravity: sentences of modes that matter, and the note.
std::vector<std::string> elevation_lines(const OverElevation& over);

/// Expected watts now, after one round and at best, of a plan on the dish.
base::Result<Outlook> outlook_of(const dish::Dish& dish, const Plan& plan,
                                 const StoryRequest& request);

}  // namespace align
