// Runs the filter over a facet's looks, and asks what happened when a move does not fit.
#include "align/learning.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/units.h"

namespace align {
namespace {

using base::Vec2;

bool any_turn(const Turns& turns) { return turns[0] != 0.0 || turns[1] != 0.0 || turns[2] != 0.0; }

/// Chi-squared by which a story of two screws must fit better than one of one screw.
constexpr double k_less_simple = 2.0;

/// What is looked for as backlash: up to a turn, in steps a hand cannot make.
constexpr double k_backlash_step_turns = 0.005;
constexpr int k_backlash_steps = 200;

/// Another story of the same move.
struct Story {
  Mishap mishap = Mishap::unknown;
  std::size_t screw = 0;
  std::size_t other = 0;
  Turns turns{};
};

std::vector<Story> stories_of(const Turns& done) {
  std::vector<Story> stories;
  stories.push_back({.mishap = Mishap::nothing_turned});
  stories.push_back({.mishap = Mishap::all_backward, .turns = {-done[0], -done[1], -done[2]}});
  for (std::size_t k = 0; k < 3; ++k) {
    if (done[k] == 0.0) continue;
    Story stuck{.mishap = Mishap::screw_stuck, .screw = k, .turns = done};
    stuck.turns[k] = 0.0;
    Story backward{.mishap = Mishap::screw_backward, .screw = k, .turns = done};
    backward.turns[k] = -done[k];
    stories.push_back(stuck);
    stories.push_back(backward);
    for (std::size_t j = 0; j < 3; ++j) {
      if (j == k || done[j] != 0.0) continue;
      Story other{.mishap = Mishap::other_screw, .screw = k, .other = j, .turns = done};
      std::swap(other.turns[k], other.turns[j]);
      stories.push_back(other);
    }
  }
  return stories;
}

/// The story that fits best, if one does.
Story best_story(const ScrewFilter& before, const Move& move, const Look& look,
                 const LearningRequest& request) {
  Story best;
  double least = k_contradiction;
  const std::size_t turned = static_cast<std::size_t>(
      std::count_if(move.done.begin(), move.done.end(), [](double t) { return t != 0.0; }));
  for (const Story& story : stories_of(move.done)) {
    // With one screw turned, "nothing turned" and "all backward" are that screw's own stories.
    const bool of_all =
        story.mishap == Mishap::nothing_turned || story.mishap == Mishap::all_backward;
    if (of_all && turned < 2) continue;
    ScrewFilter filter = before;
    turn_screws(filter, move.nominal, story.turns, request.turn_sigma_turns);
    // Equal turns of all three cancel, so "screw 3 instead of 1" can look like "the wrong way":
    // among stories that fit alike, the simpler is told.
    const double simpler = story.mishap == Mishap::other_screw ? k_less_simple : 0.0;
    const double squared = surprise_of(filter, look.seen_m, look.sigma_m).squared + simpler;
    if (squared < least) {
      least = squared;
      best = story;
    }
  }
  return best;
}

std::string turns_words(double turns) {
  const double size = std::abs(turns);
  return fmt::format("{:.3g} turn{} {}", size, size == 1.0 ? "" : "s",
                     turns > 0.0 ? "clockwise" : "anticlockwise");
}

std::string sentence_of(const dish::Dish& dish, const MoveReport& report, const Move& move,
                        const Vec2& before_m) {
  const dish::Facet& facet = dish.facets[report.facet];
  const dish::Mount& mount = *dish::find_mount(dish, facet.mount);
  const auto screw = [&](std::size_t k) { return mount.adjusters[k].label; };
  const std::string where =
      fmt::format("{}, facet {}: ", dish.rounds[report.from_round].name, facet.id.text);
  const double moved_mm = base::mm_from_m(glm::distance(report.seen_m, before_m));
  if (!report.turned) {
    return where + fmt::format(
                       "nothing was turned by the log, but the spot moved {:.0f} mm: was it "
                       "turned after all, or is one of the spots another facet's?",
                       moved_mm);
  }
  const std::string told = fmt::format("screw {} of {} was turned {}", screw(report.screw),
                                       facet.id.text, turns_words(move.done[report.screw]));
  switch (report.mishap) {
    case Mishap::screw_stuck:
      return where + told +
             fmt::format(
                 " and the spot did not move with it ({:.0f} mm in all): is it stuck, or "
                 "was another turned?",
                 moved_mm);
    case Mishap::screw_backward:
      return where + told + " and the spot moved the other way: was it turned the wrong way?";
    case Mishap::other_screw:
      return where + told +
             fmt::format(" and the spot moved as if screw {} had been turned instead",
                         screw(report.other)) +
             ".";
    case Mishap::nothing_turned:
      return where +
             fmt::format(
                 "its screws were turned and the spot moved {:.0f} mm only: was another facet "
                 "turned?",
                 moved_mm);
    case Mishap::all_backward:
      return where + "the spot moved the opposite way: were its screws turned the wrong way?";
    default:
      return where + fmt::format(
                         "the spot is {:.0f} mm from where the turns should have put it, and no "
                         "single mistake explains it: look again.",
                         base::mm_from_m(glm::distance(report.seen_m, report.expected_m)));
  }
}

/// Gains beyond what a working screw can have fall back to what was believed before.
void keep_gains_in_bounds(const dish::Dish& dish, FacetLearning& learning,
                          const ScrewFilter& before, const Turns& turns) {
  const dish::Facet& facet = dish.facets[learning.facet];
  const dish::Mount& mount = *dish::find_mount(dish, facet.mount);
  bool refuse = false;
  for (std::size_t k = 0; k < 3; ++k) {
    const double gain = learning.filter.along(k);
    if (gain > k_least_gain && gain < k_most_gain) continue;
    refuse = true;
    learning.refused[k] = fmt::format(
        "Screw {} of {} was turned {} and seems to move {:.2f} of nominal, which no working screw "
        "does: is it stuck, or was another turned?",
        mount.adjusters[k].label, facet.id.text, turns_words(turns[k]), gain);
  }
  if (!refuse) return;
  const Vec2 spot = learning.filter.spot_m();
  const double sigma = std::sqrt(learning.filter.covariance(0, 0));
  learning.filter = before;
  restart_spot(learning.filter, spot, sigma);
}

}  // namespace

double backlash_of(const LearningRequest& request, const dish::MountName& mount) {
  for (const auto& [name, turns] : request.backlash_turns) {
    if (name == mount) return turns;
  }
  return 0.0;
}

Turns effective_turns(const dish::Dish& dish, const FacetHistory& history, const Move& move,
                      const LearningRequest& request) {
  Turns turns = move.done;
  const double lost = backlash_of(request, dish.facets[history.facet].mount);
  for (std::size_t k = 0; k < 3; ++k) {
    if (!move.reversed[k] || turns[k] == 0.0) continue;
    const double size = std::max(0.0, std::abs(turns[k]) - lost);
    turns[k] = turns[k] > 0.0 ? size : -size;
  }
  return turns;
}

FacetLearning learn(const dish::Dish& dish, const FacetHistory& history,
                    const LearningRequest& request) {
  const Look& first = history.looks.front();
  FacetLearning learning{.facet = history.facet,
                         .filter = start_filter(first.seen_m, first.sigma_m, request.prior)};
  for (std::size_t i = 0; i < history.moves.size(); ++i) {
    const Look& look = history.looks[i + 1];
    Move move = history.moves[i];
    move.done = effective_turns(dish, history, move, request);
    const ScrewFilter before = learning.filter;
    turn_screws(learning.filter, move.nominal, move.done, request.turn_sigma_turns);
    const Surprise surprise = surprise_of(learning.filter, look.seen_m, look.sigma_m);
    MoveReport report{.facet = history.facet,
                      .from_round = history.looks[i].round,
                      .to_round = look.round,
                      .turned = any_turn(move.done),
                      .expected_m = surprise.expected_m,
                      .seen_m = look.seen_m,
                      .surprise = surprise.squared};
    if (surprise.squared > k_contradiction) {
      const Story story = best_story(before, move, look, request);
      report.mishap = story.mishap;
      report.screw = story.screw;
      report.other = story.other;
      report.sentence = sentence_of(dish, report, history.moves[i], history.looks[i].seen_m);
      learning.filter = before;
      restart_spot(learning.filter, look.seen_m, look.sigma_m);
    } else {
      look_again(learning.filter, look.seen_m, look.sigma_m);
      keep_gains_in_bounds(dish, learning, before, move.done);
      for (std::size_t k = 0; k < 3; ++k) {
        learning.learned[k] = learning.learned[k] || move.done[k] != 0.0;
      }
    }
    learning.moves.push_back(std::move(report));
  }
  return learning;
}

std::optional<LearnedScrews> learned_screws(const FacetLearning& learning) {
  LearnedScrews screws;
  bool any = false;
  for (std::size_t k = 0; k < 3; ++k) {
    if (!learning.learned[k]) continue;
    any = true;
    screws.along[k] = learning.filter.along(k);
    screws.across[k] = learning.filter.across(k);
    screws.sigma[k] = learning.filter.along_sigma(k);
  }
  return any ? std::optional<LearnedScrews>(screws) : std::nullopt;
}

namespace {

/// A move on which screws changed direction: what it lacks, how well that is known, and each such
/// screw's column (signed as it was turned) with the size of its turn.
struct Reversal {
  Eigen::Vector2d lacks = Eigen::Vector2d::Zero();
  Eigen::Matrix2d information = Eigen::Matrix2d::Zero();
  std::vector<std::pair<Eigen::Vector2d, double>> screws;
};

using Reversals = std::map<dish::MountName, std::vector<Reversal>>;

void collect_reversals(const dish::Dish& dish, const FacetHistory& history,
                       const LearningRequest& request, Reversals& found) {
  const Look& first = history.looks.front();
  ScrewFilter filter = start_filter(first.seen_m, first.sigma_m, request.prior);
  for (std::size_t i = 0; i < history.moves.size(); ++i) {
    const Move& move = history.moves[i];
    const Look& look = history.looks[i + 1];
    turn_screws(filter, move.nominal, move.done, request.turn_sigma_turns);
    Reversal reversal;
    for (std::size_t k = 0; k < 3; ++k) {
      if (!move.reversed[k] || move.done[k] == 0.0) continue;
      const double way = move.done[k] > 0.0 ? 1.0 : -1.0;
      reversal.screws.emplace_back(way * Eigen::Vector2d(move.nominal[k].x, move.nominal[k].y),
                                   std::abs(move.done[k]));
    }
    const Surprise surprise = surprise_of(filter, look.seen_m, look.sigma_m);
    if (!reversal.screws.empty() && surprise.squared < 4.0 * k_contradiction) {
      const Eigen::Matrix2d spread = filter.covariance.topLeftCorner<2, 2>() +
                                     look.sigma_m * look.sigma_m * Eigen::Matrix2d::Identity();
      const Vec2 off = surprise.expected_m - look.seen_m;
      reversal.lacks = {off.x, off.y};
      reversal.information = spread.inverse();
      found[dish.facets[history.facet].mount].push_back(std::move(reversal));
    }
    // The gains stay nominal here, or they would learn the backlash themselves.
    restart_spot(filter, look.seen_m, look.sigma_m);
  }
}

/// Chi-squared of what the moves lack if each screw lost so many turns, or all that it was turned.
double misfit_of(const std::vector<Reversal>& reversals, double lost_turns) {
  double sum = 0.0;
  for (const Reversal& reversal : reversals) {
    Eigen::Vector2d left = reversal.lacks;
    for (const auto& screw : reversal.screws) {
      left -= std::min(screw.second, lost_turns) * screw.first;
    }
    sum += left.dot(reversal.information * left);
  }
  return sum;
}

Backlash backlash_from(const dish::MountName& mount, const std::vector<Reversal>& reversals) {
  Backlash found{.mount = mount};
  double least = misfit_of(reversals, 0.0);
  for (int step = 1; step <= k_backlash_steps; ++step) {
    const double turns = step * k_backlash_step_turns;
    const double misfit = misfit_of(reversals, turns);
    if (!(misfit < least)) continue;
    least = misfit;
    found.turns = turns;
  }
  // Only screws that were turned further than they lose tell how much that is.
  double information = 0.0;
  for (const Reversal& reversal : reversals) {
    Eigen::Vector2d lost = Eigen::Vector2d::Zero();
    for (const auto& screw : reversal.screws) {
      found.reversals += 1;
      if (screw.second + k_backlash_step_turns > found.turns) lost += screw.first;
    }
    information += lost.dot(reversal.information * lost);
  }
  if (!(information > 0.0)) return found;
  found.sigma_turns = 1.0 / std::sqrt(information);
  found.shown = found.turns > 3.0 * found.sigma_turns;
  return found;
}

}  // namespace

std::vector<Backlash> learn_backlash(const dish::Dish& dish,
                                     const std::vector<FacetHistory>& histories,
                                     const LearningRequest& request) {
  Reversals reversals;
  for (const FacetHistory& history : histories) {
    collect_reversals(dish, history, request, reversals);
  }
  std::vector<Backlash> found;
  for (const auto& entry : reversals) found.push_back(backlash_from(entry.first, entry.second));
  return found;
}

}  // namespace align
