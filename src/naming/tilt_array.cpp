// Cells to clicks.
#include "naming/tilt_array.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "adjusters/turns.h"
#include "align/causes.h"
#include "align/piston.h"
#include "naming/covers.h"

namespace naming {
namespace {

using base::Result;
using base::Vec2;

Result<ArrayTurns> turns_to(const align::FacetSetup& setup, const align::Sighting& sighting,
                            ArrayTurns turns) {
  const auto normal = align::normal_from_spot(*setup.dish, *setup.facet, setup.nominal.normal,
                                              setup.nominal.centre, sighting, turns.cell_m);
  if (!normal) return normal.problems();
  const Vec2 change = adjusters::slopes_of_normal(setup.bracket, normal.value()) -
                      adjusters::slopes_of_normal(setup.bracket, setup.nominal.normal);
  align::PistonQuestion piston{.range = setup.range};
  for (std::size_t k = 0; k < 3; ++k) {
    piston.rise_m[k] = glm::dot(setup.bracket.seats_m[k] - setup.bracket.foot_m, change);
    piston.lead_m[k] = std::abs(setup.rise_per_turn_m[k]);
    piston.labels[k] = setup.mount->adjusters[k].label;
  }
  const align::PistonChoice choice = align::choose_piston(piston);
  turns.in_reach = choice.feasible.least <= choice.feasible.most;
  const double common = choice.chosen_m;
  adjusters::ClickQuestion question{.bracket = setup.bracket,
                                    .rise_per_turn_m = setup.rise_per_turn_m,
                                    .range = setup.range,
                                    .clicks_per_turn = turns.clicks_per_turn};
  for (std::size_t k = 0; k < 3; ++k) question.rise_m[k] = piston.rise_m[k] + common;
  turns.clicks = adjusters::round_to_clicks(question).clicks;
  for (std::size_t k = 0; k < 3; ++k) {
    turns.displacement_m[k] = turns.clicks[k] * setup.rise_per_turn_m[k] / turns.clicks_per_turn;
  }
  return turns;
}

constexpr const char* k_spread_name = "Spread on purpose";

}  // namespace

std::string spread_round_name(const dish::Dish& dish) {
  const auto before = std::count_if(dish.rounds.begin(), dish.rounds.end(), is_spread_round);
  return before == 0 ? k_spread_name : fmt::format("{}, {}", k_spread_name, before + 1);
}

bool is_spread_round(const dish::Round& round) { return round.name.rfind(k_spread_name, 0) == 0; }

std::vector<bool> stand_spread(const dish::Dish& dish) {
  std::map<dish::FacetId, bool> spread;
  for (const dish::Round& round : dish.rounds) {
    for (const dish::Turned& turned : round.turned) spread[turned.facet] = is_spread_round(round);
  }
  std::vector<bool> stand;
  for (const dish::Facet& facet : dish.facets) stand.push_back(spread[facet.id]);
  return stand;
}

Result<std::vector<ArrayTurns>> tilt_array(const dish::Dish& dish, const align::Sighting& sighting,
                                           double pitch_m) {
  std::vector<Vec2> places;
  for (const dish::Facet& facet : dish.facets) {
    places.emplace_back(facet.centre_m.x, facet.centre_m.y);
  }
  const double pitch = lattice_of(places).pitch_m;
  std::vector<ArrayTurns> array;
  base::Problems problems;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    const auto setup = align::set_up(dish, dish.facets[i]);
    if (!setup) {
      base::append(problems, setup.problems());
      continue;
    }
    ArrayTurns turns{.facet = i, .clicks_per_turn = setup.value().mount->clicks_per_turn};
    const double scale = pitch > 0.0 ? pitch_m / pitch : 0.0;
    turns.cell_m = align::board_from_sunward(sighting.dish_from_board, scale * places[i]);
    auto found = turns_to(setup.value(), sighting, turns);
    if (found) {
      array.push_back(found.value());
    } else {
      base::append(problems, found.problems());
    }
  }
  if (!problems.empty()) return problems;
  return array;
}

}  // namespace naming
