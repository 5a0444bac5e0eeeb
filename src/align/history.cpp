// Walks the log once for each facet.
#include "align/history.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

namespace align {
namespace {

using base::Vec2;

bool same_place(const Sighting& a, const Sighting& b) {
  const auto& p = a.dish_from_board;
  const auto& q = b.dish_from_board;
  return a.source == b.source && p.origin == q.origin && p.axes == q.axes &&
         a.secondary_in_place == b.secondary_in_place;
}

/// The spot as the target's light and board would show it.
std::optional<Vec2> carried_over(const FacetSetup& setup, const Sighting& from, const Sighting& to,
                                 const Vec2& seen_m) {
  const Vec2 seen = seen_m;
  if (same_place(from, to)) return seen;
  const auto normal = normal_from_spot(*setup.dish, *setup.facet, setup.nominal.normal,
                                       setup.nominal.centre, from, seen);
  if (!normal) return std::nullopt;
  const auto mark =
      expected_mark(*setup.dish, *setup.facet, {setup.nominal.centre, normal.value()}, to);
  if (!mark) return std::nullopt;
  return mark.value().board_m;
}

/// Displacements that the spot tells, the foot's height as in the file.
std::optional<std::array<double, 3>> displacement_of(const FacetSetup& setup,
                                                     const Sighting& sighting, const Vec2& seen_m) {
  const auto normal = normal_from_spot(*setup.dish, *setup.facet, setup.nominal.normal,
                                       setup.nominal.centre, sighting, seen_m);
  if (!normal) return std::nullopt;
  const auto heights =
      adjusters::heights_from_pose(setup.bracket, {setup.nominal.centre, normal.value()});
  std::array<double, 3> displacement{};
  for (std::size_t k = 0; k < 3; ++k) displacement[k] = heights[k] - setup.nominal_heights_m[k];
  return displacement;
}

/// Sets the response half way through a move, which errs by the square of the move only. False: the
/// spot cannot be, or the light misses the board there.
bool find_response(const FacetSetup& setup, const Sighting& sighting, const Vec2& from_m,
                   Move& move) {
  const auto displacement = displacement_of(setup, sighting, from_m);
  if (!displacement) return false;
  for (std::size_t k = 0; k < 3; ++k) {
    move.half_way_m[k] = (*displacement)[k] + 0.5 * move.done[k] * setup.rise_per_turn_m[k];
  }
  const auto response = response_of(setup, sighting, move.half_way_m);
  if (response) move.nominal = response.value();
  return response.ok();
}

void add(Turns& sum, const Turns& more) {
  for (std::size_t k = 0; k < 3; ++k) sum[k] += more[k];
}

/// Collects one facet's history round by round.
struct Walker {
  const dish::Dish& dish;
  const HistoryRequest& request;
  const std::vector<Sighting>& sightings;  ///< of each round
  const std::vector<Vec2>& shifts_m;       ///< of each round, to be taken off
  FacetSetup setup;
  FacetHistory history;
  std::array<std::vector<double>, 3> turned;  ///< each screw's logged turns

  void look(std::size_t round, const dish::Spot& spot);
  void turn(const dish::Round& round);
};

void Walker::look(std::size_t round, const dish::Spot& spot) {
  const auto seen = carried_over(setup, sightings[round], request.sighting, spot.seen_m);
  if (!seen) return;
  if (!history.looks.empty()) {
    const Vec2 from = history.looks.back().seen_m;
    if (!find_response(setup, request.sighting, from, history.since)) return;
    history.moves.push_back(history.since);
  }
  history.since = {};
  history.turned = turned;
  history.looks.push_back({.round = round,
                           .seen_m = *seen - shifts_m[round],
                           .sigma_m = spot.sigma_m.value_or(request.spot_sigma_m)});
}

void Walker::turn(const dish::Round& round) {
  add(history.since.told, turns_in(round.told, setup.facet->id, *setup.mount));
  const Turns done = turns_in(round.turned, setup.facet->id, *setup.mount);
  add(history.since.done, done);
  for (std::size_t k = 0; k < 3; ++k) {
    if (done[k] == 0.0) continue;
    if (!turned[k].empty() && turned[k].back() * done[k] < 0.0) history.since.reversed[k] = true;
    turned[k].push_back(done[k]);
  }
}

std::vector<FacetHistory> walk(const dish::Dish& dish, const HistoryRequest& request,
                               const std::vector<Sighting>& sightings,
                               const std::vector<Vec2>& shifts_m) {
  std::vector<FacetHistory> histories;
  // Looked up by id once: a log of many rounds on a large dish would take its square otherwise.
  std::vector<std::map<dish::FacetId, const dish::Spot*>> spots(request.rounds);
  for (std::size_t r = 0; r < request.rounds; ++r) {
    for (const dish::Spot& spot : dish.rounds[r].spots) spots[r].emplace(spot.facet, &spot);
  }
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    auto setup = set_up(dish, dish.facets[i]);
    if (!setup) continue;
    Walker walker{.dish = dish,
                  .request = request,
                  .sightings = sightings,
                  .shifts_m = shifts_m,
                  .setup = std::move(setup).value()};
    walker.history.facet = i;
    for (std::size_t r = 0; r < request.rounds; ++r) {
      const auto spot = spots[r].find(dish.facets[i].id);
      if (spot != spots[r].end()) walker.look(r, *spot->second);
      walker.turn(dish.rounds[r]);
    }
    if (!walker.history.looks.empty()) histories.push_back(std::move(walker.history));
  }
  return histories;
}

double median_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

/// What the facets' spots moved by together from the looks of round `from` to the next looks,
/// beyond their turns.
Vec2 common_shift(const std::vector<FacetHistory>& histories, std::size_t from) {
  std::vector<double> right;
  std::vector<double> up;
  for (const FacetHistory& history : histories) {
    for (std::size_t i = 0; i < history.moves.size(); ++i) {
      if (history.looks[i].round != from) continue;
      const Move& move = history.moves[i];
      const Vec2 rest = history.looks[i + 1].seen_m - history.looks[i].seen_m -
                        shift_of_turns(move.nominal, move.done);
      right.push_back(rest.x);
      up.push_back(rest.y);
    }
  }
  if (right.size() < k_facets_for_shift) return {0.0, 0.0};
  return {median_of(std::move(right)), median_of(std::move(up))};
}

}  // namespace

Turns turns_in(const std::vector<dish::Turned>& log, const dish::FacetId& facet,
               const dish::Mount& mount) {
  Turns turns{};
  for (const dish::Turned& turned : log) {
    if (turned.facet != facet) continue;
    for (std::size_t k = 0; k < 3; ++k) {
      if (mount.adjusters[k].label == turned.screw) turns[k] += turned.turns;
    }
  }
  return turns;
}

std::vector<FacetHistory> histories_of(const dish::Dish& dish, const HistoryRequest& request) {
  std::vector<Sighting> sightings;
  for (std::size_t r = 0; r < request.rounds; ++r) {
    sightings.push_back(sighting_of(dish, dish.rounds[r], request.sighting.secondary_in_place));
  }
  std::vector<Vec2> shifts(request.rounds, Vec2{0.0, 0.0});
  auto histories = walk(dish, request, sightings, shifts);
  bool any = false;
  for (std::size_t r = 0; r + 1 < request.rounds; ++r) {
    const auto& left_out = dish.rounds[r].left_out;
    if (!left_out[0] && !left_out[1]) continue;
    const Vec2 shift = common_shift(histories, r);
    for (std::size_t later = r + 1; later < request.rounds; ++later) shifts[later] += shift;
    any = any || shift != Vec2{0.0, 0.0};
  }
  return any ? walk(dish, request, sightings, shifts) : histories;
}

std::size_t rounds_before(const dish::Dish& dish, const dish::Round& round) {
  const auto& rounds = dish.rounds;
  const std::less<const dish::Round*> before;
  if (!rounds.empty() && !before(&round, rounds.data()) &&
      before(&round, rounds.data() + rounds.size())) {
    return static_cast<std::size_t>(&round - rounds.data());
  }
  for (std::size_t i = rounds.size(); i-- > 0;) {
    if (rounds[i].name == round.name && rounds[i].spots == round.spots) return i;
  }
  return rounds.size();
}

dish::Dish with_round(dish::Dish dish, const dish::Round& round) {
  dish.rounds.push_back(round);
  return dish;
}

}  // namespace align
