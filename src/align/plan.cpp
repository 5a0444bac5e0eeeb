// From a round to a plan: what earlier rounds teach, common errors, corrections.
#include "align/plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "align/causes.h"
#include "align/centroid.h"
#include "align/gauged.h"
#include "align/history.h"
#include "align/learning.h"
#include "align/observe.h"
#include "align/plan_checks.h"
#include "align/plan_verdict.h"
#include "optics/canting.h"

namespace align {
namespace {

using base::Problem;
using base::Problems;
using base::Result;
using base::Vec2;

constexpr int k_centroid_steps = 4;
constexpr double k_centroid_still_m = 1e-8;
/// A facet this many times farther from its neighbours than they scatter has a Tukey weight below
/// 0.3; c sqrt(1 - sqrt 0.3). Source: derived.
constexpr double k_doubtful = 3.445;
/// Tilt scatter that setting the screws by caliper leaves; less scatter than this makes no facet
/// doubtful. Common practice, no source.
constexpr double k_usual_tilt_rad = 0.003;

/// One usable spot on its way to a correction.
struct Item {
  std::size_t facet = 0;
  Vec2 seen_m{0.0, 0.0};   ///< as logged
  Vec2 chief_m{0.0, 0.0};  ///< centre ray, once the centroid's offset is taken off
  double sigma_m = 0.0;
  bool is_confirmed = false;  ///< an earlier look and the turns since let expect this one
  std::optional<LearnedScrews> learned;
  LearnedPlay play;
  std::optional<Correction> correction;
};

struct PlanWork {
  const dish::Dish& dish;
  const PlanRequest& request;
  Sighting sighting;
  std::vector<Item> items;                                ///< in the dish's order
  std::map<std::size_t, std::vector<Correction>> gauged;  ///< measured without light, by facet
  Measured measured;                                      ///< parallel to `items`
  std::optional<ModeFit> fit;
  Plan plan;
};

void add(Problems& to, const Problems& from) { to.insert(to.end(), from.begin(), from.end()); }

/// Items in the dish's order.
void sort_spots(PlanWork& work, const SpotRegister& known) {
  const auto& of_facet = known.spots;
  for (std::size_t i = 0; i < of_facet.size(); ++i) {
    if (of_facet[i] != nullptr) {
      work.items.push_back({.facet = i,
                            .seen_m = of_facet[i]->seen_m,
                            .chief_m = of_facet[i]->seen_m,
                            .sigma_m = of_facet[i]->sigma_m.value_or(work.request.spot_sigma_m)});
    }
  }
}

/// Takes over what one facet's history teaches.
void teach(PlanWork& work, Item* item, const FacetLearning& learned) {
  for (const MoveReport& move : learned.moves) {
    if (!move.sentence.empty()) work.plan.doubts.push_back(move.sentence);
  }
  for (const std::string& why : learned.refused) {
    if (!why.empty()) work.plan.doubts.push_back(why);
  }
  if (item == nullptr) return;
  item->is_confirmed = !learned.moves.empty() && learned.moves.back().mishap == Mishap::none;
  item->learned = learned_screws(learned);
  if (!work.request.average_looks) return;
  const Vec2 moved = learned.filter.spot_m() - item->seen_m;
  item->seen_m += moved;
  item->chief_m += moved;
  item->sigma_m = std::sqrt(learned.filter.covariance(0, 0));
}

/// What earlier rounds teach of the items' screws, and which spots they let expect.
void learn_screws(PlanWork& work, const dish::Round& round) {
  if (!work.request.use_learning) return;
  const auto& rounds = work.dish.rounds;
  const std::size_t before = rounds_before(work.dish, round);
  if (before == 0) return;
  const bool is_logged = before < rounds.size();
  const dish::Dish longer = is_logged ? dish::Dish{} : with_round(work.dish, round);
  const dish::Dish& dish = is_logged ? work.dish : longer;
  const auto histories = histories_of(
      dish,
      {.rounds = before + 1, .sighting = work.sighting, .spot_sigma_m = work.request.spot_sigma_m});
  LearningRequest learning{.turn_sigma_turns = work.request.turn_sigma_turns};
  for (const Backlash& lost : learn_backlash(dish, histories, learning)) {
    if (lost.shown) learning.backlash_turns.emplace_back(lost.mount, lost.turns);
  }
  std::vector<Item*> item_of(dish.facets.size(), nullptr);
  for (Item& item : work.items) item_of[item.facet] = &item;
  for (const FacetHistory& history : histories) {
    Item* item = item_of[history.facet];
    teach(work, item, learn(dish, history, learning));
    if (item == nullptr) continue;
    item->play.turns = backlash_of(learning, dish.facets[history.facet].mount);
    for (std::size_t k = 0; k < 3; ++k) {
      item->play.ahead[k] = play_ahead(history.turned[k], item->play.turns);
    }
  }
}

/// Expected marks and residuals; a facet without either is a problem and goes no further.
void measure(PlanWork& work) {
  std::vector<Item> usable;
  for (const Item& item : work.items) {
    const dish::Facet& facet = work.dish.facets[item.facet];
    const auto nominal = optics::nominal_pose(work.dish, facet);
    if (!nominal) {
      add(work.plan.problems, nominal.problems());
      continue;
    }
    const auto& pose = nominal.value();
    const auto mark = expected_mark(work.dish, facet, pose, work.sighting);
    const auto normal =
        normal_from_spot(work.dish, facet, pose.normal, pose.centre, work.sighting, item.chief_m);
    if (!mark || !normal) {
      add(work.plan.problems, mark ? normal.problems() : mark.problems());
      continue;
    }
    usable.push_back(item);
    work.measured.facets.push_back(item.facet);
    work.measured.nominal.push_back(pose);
    work.measured.places_m.emplace_back(pose.centre.x, pose.centre.y);
    work.measured.marks_m.push_back(mark.value().board_m);
    work.measured.residuals_m.push_back(
        sunward_from_board(work.sighting.dish_from_board, item.chief_m - mark.value().board_m));
  }
  work.items = std::move(usable);
}

/// Problem: modes are to be left out that the spots cannot tell.
Problems fit_common(PlanWork& work) {
  const auto fit = fit_modes(work.measured.places_m, work.measured.residuals_m, Estimator::tukey);
  if (fit) {
    work.fit = fit.value();
    return {};
  }
  work.fit.reset();
  const Problem& why = fit.problems().front();
  work.plan.common_note =
      fmt::format("Common errors are not told apart: {}; it takes {}.", why.value, why.expected);
  const auto& left_out = work.request.left_out;
  if (std::none_of(left_out.begin(), left_out.end(), [](bool out) { return out; })) return {};
  return fit.problems();
}

/// The centre ray's spot of an item, without the modes that are corrected elsewhere.
Vec2 spot_to_correct(const PlanWork& work, std::size_t i) {
  Vec2 spot = work.items[i].chief_m;
  if (work.fit) {
    const Vec2 shift = shift_of(*work.fit, work.request.left_out, work.measured.places_m[i]);
    spot -= board_from_sunward(work.sighting.dish_from_board, shift);
  }
  return spot;
}

CorrectionRequest correction_request(const PlanRequest& plan, double spot_sigma_m) {
  return {.piston = plan.piston,
          .held_screw = plan.held_screw,
          .clicks_per_turn = plan.clicks_per_turn,
          .pivot = plan.pivot,
          .sigmas = {spot_sigma_m, plan.lean_sigma_rad, plan.height_sigma_m},
          .turn_sigma_turns = plan.turn_sigma_turns};
}

Result<Correction> correct_item(const PlanWork& work, std::size_t i, const Vec2& spot_m) {
  CorrectionRequest request = correction_request(work.request, work.items[i].sigma_m);
  request.learned = work.items[i].learned;
  request.play = work.items[i].play;
  return correct(work.dish, work.dish.facets[work.items[i].facet], work.sighting, spot_m, request);
}

/// Takes the offset between a facet's whole light and its centre ray off the spots. The offset
/// depends a little on how the facet stands, which follows from the spot: repeated until it rests.
Problems take_off_centroids(PlanWork& work) {
  std::vector<Vec2> before(work.items.size(), Vec2{0.0, 0.0});
  for (int step = 0; step < k_centroid_steps; ++step) {
    std::vector<StandingFacet> facets;
    for (std::size_t i = 0; i < work.items.size(); ++i) {
      const auto standing = correct_item(work, i, work.items[i].chief_m);
      StandingFacet facet{.facet = work.items[i].facet};
      if (standing) {
        for (std::size_t k = 0; k < 3; ++k) {
          facet.displacement_m[k] = standing.value().screws[k].now_m;
        }
      }
      facets.push_back(facet);
    }
    const auto offsets = centroid_offsets(work.dish, work.sighting, facets);
    if (!offsets) return offsets.problems();
    double moved = 0.0;
    for (std::size_t i = 0; i < work.items.size(); ++i) {
      const Vec2 offset = offsets.value()[i].value_or(before[i]);
      moved = std::max(moved, glm::distance(offset, before[i]));
      before[i] = offset;
      work.items[i].chief_m = work.items[i].seen_m - offset;
    }
    if (moved < k_centroid_still_m) break;
  }
  return {};
}

void correct_all(PlanWork& work) {
  for (std::size_t i = 0; i < work.items.size(); ++i) {
    auto correction = correct_item(work, i, spot_to_correct(work, i));
    if (correction) {
      work.items[i].correction = std::move(correction).value();
    } else {
      add(work.plan.problems, correction.problems());
    }
  }
}

/// Facets measured without light, and those with neither reading nor spot.
void correct_gauged(PlanWork& work, const dish::Round& round, const SpotRegister& known) {
  std::vector<bool> observed(work.dish.facets.size(), false);
  for (std::size_t i = 0; i < observed.size(); ++i) observed[i] = known.spots[i] != nullptr;
  const CorrectionRequest request = correction_request(work.request, work.request.spot_sigma_m);
  for (const Gauged& gauged : gauged_of(work.dish, round)) {
    observed[gauged.facet] = true;
    const dish::Facet& facet = work.dish.facets[gauged.facet];
    auto correction = correct(work.dish, facet, work.sighting, gauged.observation, request);
    if (correction) {
      work.gauged[gauged.facet].push_back(std::move(correction).value());
    } else {
      add(work.plan.problems, correction.problems());
    }
  }
  for (std::size_t i = 0; i < observed.size(); ++i) {
    if (!observed[i]) work.plan.unmeasured.push_back(work.dish.facets[i].id);
  }
}

/// One correction for each facet that has any, in the dish's order.
void gather(PlanWork& work) {
  std::map<std::size_t, std::vector<Correction>>& found = work.gauged;
  for (Item& item : work.items) {
    if (item.correction) found[item.facet].push_back(std::move(*item.correction));
  }
  for (const auto& entry : found) {
    const std::vector<Correction>& of_facet = entry.second;
    work.plan.facets.push_back(of_facet.size() == 1 ? of_facet.front() : reconciled(of_facet));
  }
}

/// Facets that do not fit the others are to be looked at again before they are turned; those that
/// were, and stand where they stood, are believed.
void find_doubtful(PlanWork& work) {
  if (!work.fit) return;
  for (std::size_t i = 0; i < work.items.size(); ++i) {
    if (!work.items[i].correction || work.items[i].is_confirmed) continue;
    Correction& correction = *work.items[i].correction;
    Vec2 left = work.measured.residuals_m[i];
    std::array<bool, k_modes> all{};
    all.fill(true);
    left -= shift_of(*work.fit, all, work.measured.places_m[i]);
    const double tilt = glm::length(correction.tilt_error_rad);
    if (!(tilt > 0.0)) continue;
    const double spot_per_tilt = glm::length(correction.spot_error_m) / tilt;
    const double scatter = std::max(work.fit->scale_m, spot_per_tilt * k_usual_tilt_rad);
    if (glm::length(left) > k_doubtful * scatter) mark_doubtful(correction);
  }
}

void explain_common(PlanWork& work) {
  if (!work.fit) return;
  const auto responses = responses_of(work.dish, work.measured, work.sighting);
  if (!responses) return;
  double threshold = 0.0;
  std::size_t count = 0;
  for (const Item& item : work.items) {
    if (!item.correction) continue;
    threshold += item.correction->stop_threshold_m;
    ++count;
  }
  if (count > 0) threshold /= static_cast<double>(count);
  work.plan.common = explain(*work.fit, responses.value(), work.measured.places_m, threshold);
}

std::string shift_advice(const PlanWork& work) {
  if (!work.plan.common || work.plan.facets.empty()) return "";
  const auto& modes = work.plan.common->modes;
  const auto& out = work.request.left_out;
  const bool shifted = (modes[0].significant && !out[0]) || (modes[1].significant && !out[1]);
  return shifted ? " All spots are shifted together: consider setting the tracker's offset first."
                 : "";
}

}  // namespace

Result<Plan> make_plan(const dish::Dish& dish, const dish::Round& round,
                       const PlanRequest& request) {
  SpotRegister known(dish);
  Problems problems = check_plan(round, request, known);
  add(problems, problems_of_gauged(dish, round));
  if (!problems.empty()) return problems;
  PlanWork work{.dish = dish,
                .request = request,
                .sighting = sighting_of(dish, round, request.secondary_in_place)};
  sort_spots(work, known);
  learn_screws(work, round);
  if (request.spot_is_centroid && !work.items.empty()) {
    problems = take_off_centroids(work);
    if (!problems.empty()) return problems;
  }
  measure(work);
  problems = fit_common(work);
  if (!problems.empty()) return problems;
  correct_all(work);
  correct_gauged(work, round, known);
  find_doubtful(work);
  explain_common(work);
  gather(work);
  sum_up(work.plan);
  work.plan.verdict += shift_advice(work);
  work.plan.caution = round.spots.empty() ? "" : caution_of(round.source);
  return std::move(work.plan);
}

}  // namespace align
