// Codes, and the spots they move.
#include "naming/coded_nudge.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "align/facet_setup.h"
#include "base/elementary.h"
#include "naming/covers.h"
#include "naming/identify_cost.h"

namespace naming {
namespace {

using base::Mat2;
using base::Result;
using base::Vec2;

constexpr std::size_t k_codes = 7;
constexpr double k_two_pi = 6.283185307179586;

/// Where a nudge sends a spot, and how well that is known.
struct ExpectedMove {
  Vec2 move_m{0.0, 0.0};
  Mat2 spread{0.0};  ///< without the photographs' own noise
};

struct NudgeWork {
  IdentifyTarget target;
  std::vector<ExpectedMove> moves;
  const NudgedLooks& looks;
  const IdentifySettings& settings;
  std::vector<std::size_t> after_of;  ///< best second spot, cell by first spot; or `k_unassigned`
};

Result<std::vector<ExpectedMove>> expected_moves(
    const dish::Dish& dish, const align::Sighting& sighting, const std::vector<FacetPrior>& priors,
    const std::vector<ToldTurns>& nudges, const std::vector<Cell>& before, const Hands& hands) {
  std::vector<FacetPrior> nudged = priors;
  std::map<std::size_t, const ToldTurns*> told;
  for (const ToldTurns& each : nudges) told[each.facet] = &each;
  std::vector<double> turned(priors.size(), 0.0);
  for (std::size_t c = 0; c < priors.size(); ++c) {
    const auto found = told.find(priors[c].facet);
    if (found == told.end()) continue;
    const auto setup = align::set_up(dish, dish.facets[priors[c].facet]);
    if (!setup) return setup.problems();
    for (std::size_t k = 0; k < 3; ++k) {
      const double turns = found->second->turns[k];
      nudged[c].displacement_m[k] += turns * setup.value().rise_per_turn_m[k];
      turned[c] += std::abs(turns);
    }
  }
  const auto after = cells_of(dish, sighting, nudged);
  if (!after) return after.problems();
  std::vector<ExpectedMove> moves;
  for (std::size_t c = 0; c < before.size(); ++c) {
    ExpectedMove move{.move_m = after.value()[c].mark_m - before[c].mark_m};
    if (turned[c] > 0.0) {
      const Vec2 per_turn = move.move_m / turned[c];
      move.spread = base::square(hands.turn_sigma_turns) * glm::outerProduct(per_turn, per_turn);
    }
    moves.push_back(move);
  }
  return moves;
}

/// Cost of the second photograph for a cell that had `spot` in the first, and which spot it is.
double cost_of_move(const NudgeWork& work, std::size_t cell, const BoardSpot& spot,
                    std::size_t& after) {
  double least = -base::log_positive(1.0 - work.settings.detection);
  after = base::k_unassigned;
  const double constant =
      base::log_positive(work.settings.false_spots / work.settings.board_area_m2) -
      base::log_positive(work.settings.detection);
  for (std::size_t b = 0; b < work.looks.after.size(); ++b) {
    const BoardSpot& other = work.looks.after[b];
    const double noise = base::square(spot.sigma_m) + base::square(other.sigma_m);
    const Mat2 spread = work.moves[cell].spread + Mat2(noise);
    const double det = glm::determinant(spread);
    const Vec2 off = other.board_m - spot.board_m - work.moves[cell].move_m;
    const double distance2 = (spread[1][1] * off.x * off.x - 2.0 * spread[0][1] * off.x * off.y +
                              spread[0][0] * off.y * off.y) /
                             det;
    const double cost = 0.5 * distance2 + base::log_positive(k_two_pi * std::sqrt(det)) + constant;
    if (cost < least) {
      least = cost;
      after = b;
    }
  }
  return least;
}

base::CostTable nudge_costs(NudgeWork& work, const BoardLook& look) {
  IdentifySettings settings = work.settings;
  settings.uses_flux = false;
  base::CostTable table = costs_of(work.target.cells, look, columns_of(look, settings), settings);
  work.after_of.assign(table.rows * table.columns, base::k_unassigned);
  for (std::size_t i = 0; i < table.rows; ++i) {
    // A facet that is nowhere in the first photograph is one stranger in the second.
    table.unassigned_cost[i] += -base::log_positive(1.0 - settings.detection);
    for (std::size_t j = 0; j < table.columns; ++j) {
      table.at(i, j) += cost_of_move(work, i, look.spots[j], work.after_of[i * table.columns + j]);
    }
  }
  return table;
}

std::vector<NudgedFinding> nudge_findings(const NudgeWork& work, const base::CostTable& table,
                                          const base::Assignment& assigned) {
  std::vector<NudgedFinding> findings;
  std::vector<std::size_t> claims(work.looks.after.size(), 0);
  for (std::size_t i = 0; i < table.rows; ++i) {
    NudgedFinding found{.finding = {.cell = i}};
    const std::size_t j = assigned.column_of[i];
    if (j != base::k_unassigned) {
      found.finding.spot = j;
      const double rise = base::rise_without(table, assigned, i, work.settings.most_rise);
      found.finding.odds = base::exp_of(rise);
      found.finding.distance2 = misfit(work.target.cells[i], work.looks.before[j], 0.0).distance2;
      if (rise < work.settings.least_rise) found.finding.doubt = Doubt::ambiguous;
      found.after = work.after_of[i * table.columns + j];
      found.has_after = found.after != base::k_unassigned;
      if (found.has_after) ++claims[found.after];
    }
    findings.push_back(std::move(found));
  }
  for (NudgedFinding& found : findings) {
    if (found.has_after && claims[found.after] > 1) found.has_after = false;
    if (!found.has_after) {
      found.finding.doubt = Doubt::missing;
    }
    if (found.finding.doubt == Doubt::none) continue;
    found.finding.sentence =
        "The move of " + work.target.names[found.finding.cell] +
        "'s spot was not recognised. Uncover it alone and take one more photo.";
  }
  return findings;
}

}  // namespace

Result<std::vector<ToldTurns>> coded_nudges(const dish::Dish& dish) {
  std::vector<Vec2> places;
  for (const dish::Facet& facet : dish.facets) {
    places.emplace_back(facet.centre_m.x, facet.centre_m.y);
  }
  const Cover cover = cover_in(places, k_codes);
  std::vector<ToldTurns> nudges;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    const auto setup = align::set_up(dish, dish.facets[i]);
    if (!setup) return setup.problems();
    const int clicks = setup.value().mount->clicks_per_turn;
    ToldTurns told{.facet = i};
    const std::size_t code = cover.group_of[i];
    if (code > 0) {
      const double turns = std::floor(k_code_turns * clicks + 0.5) / clicks;
      told.turns[(code - 1) % 3] = code <= 3 ? turns : -turns;
    }
    nudges.push_back(told);
  }
  return nudges;
}

Result<std::vector<NudgedFinding>> identify_nudged(
    const dish::Dish& dish, const align::Sighting& sighting, const std::vector<FacetPrior>& priors,
    const std::vector<ToldTurns>& nudges, const NudgedLooks& looks,
    const IdentifySettings& settings, const Hands& hands) {
  auto target = target_of(dish, sighting, priors);
  if (!target) return target.problems();
  BoardLook look{.spots = looks.before};
  look.cells.resize(target.value().cells.size());
  std::iota(look.cells.begin(), look.cells.end(), std::size_t{0});
  const base::Problems problems =
      problems_of_looks(target.value(), {look, {look.cells, looks.after}}, settings);
  if (!problems.empty()) return problems;
  auto moves = expected_moves(dish, sighting, priors, nudges, target.value().cells, hands);
  if (!moves) return moves.problems();
  NudgeWork work{std::move(target).value(), std::move(moves).value(), looks, settings, {}};
  const base::CostTable table = nudge_costs(work, look);
  return nudge_findings(work, table, base::assign(table));
}

}  // namespace naming
