// The log and the as-built displacements change together.
#include "align/put_right.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <set>

#include "align/facet_setup.h"
#include "align/history.h"

namespace align {
namespace {

using base::Problem;
using base::Result;

bool is_turned_later(const dish::Dish& dish, std::size_t round, const dish::FacetId& facet) {
  for (std::size_t r = round + 1; r < dish.rounds.size(); ++r) {
    for (const dish::Turned& turned : dish.rounds[r].turned) {
      if (turned.facet == facet) return true;
    }
  }
  return false;
}

/// The facet's displacements with the effect of `from` replaced by that of `to`.
dish::edit::Moved moved_by(const FacetSetup& setup, const Turns& from, const Turns& to) {
  dish::edit::Moved moved{setup.facet->id, setup.facet->displacement_m};
  for (std::size_t k = 0; k < 3; ++k) {
    moved.displacement_m[k] += (to[k] - from[k]) * setup.rise_per_turn_m[k];
  }
  return moved;
}

Result<dish::edit::AmendTurns> amended(const dish::Dish& dish, std::size_t round,
                                       const dish::FacetId& facet,
                                       const std::function<bool(dish::Turned&)>& change) {
  if (round >= dish.rounds.size()) {
    return Problem{"rounds", fmt::format("round {} of {}", round + 1, dish.rounds.size()),
                   "a round of this dish"};
  }
  const std::size_t index = dish::find_facet(dish, facet);
  if (index == dish::k_no_facet) {
    return Problem{"facets", "no facet " + facet.text, "a facet of this dish"};
  }
  const auto setup = set_up(dish, dish.facets[index]);
  if (!setup) return setup.problems();
  dish::edit::AmendTurns wish{.round = round, .facet = facet};
  bool any = false;
  const auto& log = dish.rounds[round].turned;
  for (dish::Turned turned : log) {
    if (turned.facet != facet) continue;
    any = change(turned) || any;
    if (turned.turns != 0.0) wish.turned.push_back(turned);
  }
  if (!any) {
    return Problem{"facets/" + facet.text,
                   fmt::format("no such turns in {}", dish.rounds[round].name),
                   "a screw whose turns this round logs"};
  }
  if (!is_turned_later(dish, round, facet)) {
    wish.moved = moved_by(setup.value(), turns_in(log, facet, *setup.value().mount),
                          turns_in(wish.turned, facet, *setup.value().mount));
  }
  return wish;
}

}  // namespace

Result<dish::edit::AmendTurns> turned_wrong_way(const dish::Dish& dish, std::size_t round,
                                                const dish::FacetId& facet,
                                                const std::string& screw) {
  return amended(dish, round, facet, [&](dish::Turned& turned) {
    if (!screw.empty() && turned.screw != screw) return false;
    turned.turns = -turned.turns;
    return true;
  });
}

Result<dish::edit::AmendTurns> turned_other_screw(const dish::Dish& dish, std::size_t round,
                                                  const dish::FacetId& facet,
                                                  const std::string& told,
                                                  const std::string& really) {
  return amended(dish, round, facet, [&](dish::Turned& turned) {
    if (turned.screw == told) {
      turned.screw = really;
      return true;
    }
    if (turned.screw == really) turned.screw = told;
    return false;
  });
}

Result<dish::edit::AmendTurns> not_turned(const dish::Dish& dish, std::size_t round,
                                          const dish::FacetId& facet, const std::string& screw) {
  return amended(dish, round, facet, [&](dish::Turned& turned) {
    if (!screw.empty() && turned.screw != screw) return false;
    turned.turns = 0.0;
    return true;
  });
}

Result<dish::edit::UndoRound> take_back_last(const dish::Dish& dish) {
  if (dish.rounds.empty()) return Problem{"rounds", "none is logged", "a round to take back"};
  dish::edit::UndoRound wish;
  const auto& log = dish.rounds.back().turned;
  std::set<dish::FacetId> told;
  for (const dish::Turned& turned : log) {
    if (!told.insert(turned.facet).second) continue;
    const std::size_t index = dish::find_facet(dish, turned.facet);
    if (index == dish::k_no_facet) continue;
    const auto setup = set_up(dish, dish.facets[index]);
    if (!setup) return setup.problems();
    wish.moved.push_back(
        moved_by(setup.value(), turns_in(log, turned.facet, *setup.value().mount), {}));
  }
  return wish;
}

}  // namespace align
