// Plans each round as it was, compares it with what came, and looks ahead from the last.
#include "align/rounds_story.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "base/elementary.h"
#include "base/sums.h"
#include "base/units.h"

namespace align {
namespace {

using base::Result;
using base::Vec2;

/// Another round that brings less than this share of the watts is not worth an hour's work.
/// Common practice, no source.
constexpr double k_worth_share = 0.002;

struct StoryWork {
  const dish::Dish& dish;
  const StoryRequest& request;
  std::vector<FacetHistory> histories;
  LearningRequest learning;
  std::vector<FacetLearning> learned;
  std::optional<Plan> last;
  RoundsStory story;
};

PlanRequest plan_request_for(const StoryRequest& request, const dish::Round& round) {
  PlanRequest plan = request.plan;
  plan.spot_is_centroid = std::holds_alternative<dish::SunSource>(round.source);
  if (!round.turned.empty()) plan.left_out = round.left_out;
  return plan;
}

std::size_t facets_in(const std::vector<dish::Turned>& log) {
  std::set<dish::FacetId> facets;
  for (const dish::Turned& turned : log) facets.insert(turned.facet);
  return facets.size();
}

void tell_round(StoryWork& work, const dish::Round& round) {
  RoundInStory told{
      .name = round.name, .seen = round.spots.size(), .turned = facets_in(round.turned)};
  std::set<dish::FacetId> turned;
  for (const dish::Turned& screw : round.turned) {
    told.turns += std::abs(screw.turns);
    turned.insert(screw.facet);
  }
  work.last.reset();
  auto plan = make_plan(work.dish, round, plan_request_for(work.request, round));
  if (!plan) {
    told.problem = base::to_line(plan.problems().front());
  } else {
    told.rms_tilt_rad = plan.value().rms_tilt_rad;
    told.expected_next_rad = plan.value().expected_rms_rad;
    for (const Correction& facet : plan.value().facets) {
      told.facets.push_back({.id = facet.id,
                             .seen_error_m = facet.spot_error_m,
                             .tilt_rad = glm::length(facet.tilt_error_rad),
                             .turned = turned.count(facet.id) != 0,
                             .verdict = facet.verdict});
    }
    work.last = std::move(plan).value();
  }
  work.story.rounds.push_back(std::move(told));
}

/// Expected places and doubts, by the moves that ended in each round.
void compare_moves(StoryWork& work) {
  std::vector<std::map<dish::FacetId, FacetInRound*>> facets(work.story.rounds.size());
  for (std::size_t r = 0; r < facets.size(); ++r) {
    for (FacetInRound& facet : work.story.rounds[r].facets) facets[r].emplace(facet.id, &facet);
  }
  for (const FacetLearning& learning : work.learned) {
    for (const MoveReport& move : learning.moves) {
      if (!move.sentence.empty()) work.story.doubts.push_back(move.sentence);
      const auto found = facets[move.to_round].find(work.dish.facets[move.facet].id);
      if (found == facets[move.to_round].end()) continue;
      FacetInRound& facet = *found->second;
      facet.expected_error_m = facet.seen_error_m + move.expected_m - move.seen_m;
      facet.doubt = move.sentence;
    }
    for (const std::string& why : learning.refused) {
      if (!why.empty()) work.story.doubts.push_back(why);
    }
  }
}

/// How far the moves that fit fell from what was told, along themselves.
void find_convergence(StoryWork& work) {
  Convergence& found = work.story.convergence;
  double excess = 0.0;
  double weight = 0.0;
  double variance = 0.0;
  double squares = 0.0;
  for (std::size_t h = 0; h < work.histories.size(); ++h) {
    const FacetHistory& history = work.histories[h];
    for (std::size_t i = 0; i < history.moves.size(); ++i) {
      const MoveReport& report = work.learned[h].moves[i];
      if (!report.turned || report.mishap != Mishap::none) continue;
      const Move& move = history.moves[i];
      const Vec2 told = shift_of_turns(move.nominal, move.done);
      const double square = glm::dot(told, told);
      if (!(square > 0.0)) continue;
      const Vec2 off = history.looks[i + 1].seen_m - history.looks[i].seen_m - told;
      double noise =
          std::pow(history.looks[i].sigma_m, 2) + std::pow(history.looks[i + 1].sigma_m, 2);
      for (std::size_t k = 0; k < 3; ++k) {
        if (move.done[k] == 0.0) continue;
        const double along = glm::dot(move.nominal[k], told) / std::sqrt(square);
        noise += std::pow(work.learning.turn_sigma_turns * along, 2);
      }
      excess += glm::dot(off, told);
      weight += square;
      variance += noise * square;
      squares += std::pow(glm::dot(off, told), 2) / square - noise;
      ++found.moves;
    }
  }
  if (weight > 0.0) {
    found.gain_error = excess / weight;
    found.gain_error_sigma = std::sqrt(variance) / weight;
    found.gamma = std::sqrt(std::max(0.0, squares / weight));
  }
  if (!work.last || work.last->facets.empty()) return;
  double floor = 0.0;
  for (const Correction& facet : work.last->facets)
    floor += facet.expected_rad * facet.expected_rad;
  found.floor_rad = std::sqrt(floor / static_cast<double>(work.last->facets.size()));
  found.rounds_left = rounds_needed(work.last->rms_tilt_rad, found.floor_rad, found.gamma);
}

void weigh_labels(StoryWork& work, const Sighting& sighting) {
  for (const dish::Mount& mount : work.dish.mounts) {
    if (mount.adjusters.size() != 3) continue;
    std::vector<FacetHistory> own;
    for (const FacetHistory& history : work.histories) {
      if (!history.moves.empty() && work.dish.facets[history.facet].mount == mount.name) {
        own.push_back(history);
      }
    }
    if (own.empty()) continue;
    LabelVerdict fleet = judge_fleet(work.dish, own, mount, sighting, work.learning);
    const bool all_wrong = fleet.act;
    work.story.labels.push_back(std::move(fleet));
    if (all_wrong) continue;  // each facet would only say the same again
    for (const FacetHistory& history : own) {
      LabelVerdict verdict = judge_facet(work.dish, history, work.learning);
      if (verdict.warn) work.story.facet_labels.push_back(std::move(verdict));
    }
  }
  for (const Swap& swap : find_swaps(work.dish, work.histories, work.learning)) {
    work.story.swaps.push_back(sentence_of(work.dish, swap));
  }
}

void pass_dish_verdict(StoryWork& work) {
  RoundsStory& story = work.story;
  if (!work.last) {
    story.verdict = "The last round could not be worked out: " + story.rounds.back().problem;
    return;
  }
  story.verdict = work.last->verdict;
  const Outlook& outlook = story.outlook;
  if (!outlook.now_W || !outlook.after_W) return;
  const double gain = *outlook.after_W - *outlook.now_W;
  story.verdict += fmt::format(
      " Stopping now leaves about {:.1f} mrad and {:.0f} W; one round more about {:.1f} mrad and "
      "{:.0f} W.",
      base::mrad_from_rad(outlook.now_rad), *outlook.now_W, base::mrad_from_rad(outlook.after_rad),
      *outlook.after_W);
  if (work.last->to_turn > 0 && gain < k_worth_share * *outlook.now_W) {
    story.verdict += " That is hardly worth another round.";
  }
}

void learn_all(StoryWork& work, const Sighting& sighting) {
  work.histories = histories_of(work.dish, {.rounds = work.dish.rounds.size(),
                                            .sighting = sighting,
                                            .spot_sigma_m = work.request.plan.spot_sigma_m});
  work.learning.turn_sigma_turns = work.request.plan.turn_sigma_turns;
  work.story.backlash = learn_backlash(work.dish, work.histories, work.learning);
  for (const Backlash& lost : work.story.backlash) {
    if (lost.shown) work.learning.backlash_turns.emplace_back(lost.mount, lost.turns);
  }
  for (const FacetHistory& history : work.histories) {
    work.learned.push_back(learn(work.dish, history, work.learning));
  }
}

void tell_elevations(StoryWork& work, const Sighting& sighting) {
  base::Sum threshold;
  if (work.last) {
    for (const Correction& facet : work.last->facets) threshold.add(facet.stop_threshold_m);
  }
  const double count = work.last ? static_cast<double>(work.last->facets.size()) : 0.0;
  work.story.over_elevation = over_elevation(work.dish, work.histories, sighting, work.learning,
                                             count > 0.0 ? threshold.value() / count : 0.0);
}

}  // namespace

std::vector<std::string> elevation_lines(const OverElevation& over) {
  std::vector<std::string> lines;
  for (const ModeOverElevation& mode : over.modes) {
    if (mode.significant) lines.push_back(mode.sentence);
  }
  if (!over.note.empty()) lines.push_back(over.note);
  return lines;
}

int rounds_needed(double error_rad, double floor_rad, double gamma) {
  if (!(floor_rad > 0.0) || !(error_rad > floor_rad)) return 0;
  const double pace = std::clamp(gamma, 1e-6, 0.999);
  return static_cast<int>(
      std::ceil(base::log_positive(error_rad / floor_rad) / -base::log_positive(pace)));
}

Result<RoundsStory> tell_rounds(const dish::Dish& dish, const StoryRequest& request) {
  if (dish.rounds.empty()) {
    return base::Problem{"rounds", "none is logged", "at least one round with spots"};
  }
  StoryWork work{.dish = dish, .request = request};
  const Sighting sighting = sighting_of(dish, dish.rounds.back(), request.plan.secondary_in_place);
  for (const dish::Round& round : dish.rounds) tell_round(work, round);
  learn_all(work, sighting);
  tell_elevations(work, sighting);
  compare_moves(work);
  find_convergence(work);
  if (request.labels) weigh_labels(work, sighting);
  if (work.last) {
    auto outlook = outlook_of(dish, *work.last, request);
    if (!outlook) return outlook.problems();
    work.story.outlook = std::move(outlook).value();
  }
  pass_dish_verdict(work);
  return std::move(work.story);
}

}  // namespace align
