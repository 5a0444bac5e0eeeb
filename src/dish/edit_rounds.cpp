// Edits of rounds: what was seen, and what was turned after it.
#include "dish/edit_parts.h"
#include "dish/merge.h"

namespace dish {
namespace {

using base::Problem;
using base::Problems;

Problems problems_among(const Dish& dish, const Round& round, const std::string& place) {
  Problems problems = problems_of(round, place);
  append(problems, unknown_facets(dish, round, place));
  append(problems, doubled_spots(round, place));
  return problems;
}

Round with_unit_directions(Round round) {
  if (round.board) round.board->lit_normal = normalised(round.board->lit_normal);
  return round;
}

/// The facet and the screw's label must be there: turns cannot be logged for anything else.
Problems unknown_screw(const Dish& dish, const Turned& turned, const std::string& place) {
  const std::size_t index = find_facet(dish, turned.facet);
  if (index == k_no_facet) return {no_such_facet(dish, turned.facet, place)};
  const Mount* mount = find_mount(dish, dish.facets[index].mount);
  if (mount == nullptr) return {{place_of(turned.facet), "it has no mount", "one with screws"}};
  std::string labels;
  for (const Adjuster& screw : mount->adjusters) {
    if (screw.label == turned.screw) return {};
    labels += (labels.empty() ? "" : ", ") + screw.label;
  }
  return {{place_of(turned.facet), fmt::format("screw \"{}\"", turned.screw), "one of " + labels}};
}

}  // namespace

Problems add_round(Dish& dish, const Round& round) {
  Round added = with_unit_directions(round);
  const std::string place =
      added.name.empty() ? std::string("new round") : fmt::format("round {}", added.name);
  Problems problems = problems_among(dish, added, place);
  if (problems.empty()) dish.rounds.push_back(std::move(added));
  return problems;
}

Problems replace_round(Dish& dish, std::size_t index, const Round& round) {
  if (index >= dish.rounds.size()) return {no_such_number("round", index, dish.rounds.size())};
  Round replacement = with_unit_directions(round);
  Problems problems = problems_among(dish, replacement, place_of_round(dish, index));
  if (problems.empty()) dish.rounds[index] = std::move(replacement);
  return problems;
}

Problems set_spot(Dish& dish, std::size_t round, const Spot& spot) {
  if (round >= dish.rounds.size()) return {no_such_number("round", round, dish.rounds.size())};
  const std::string place = place_of_round(dish, round);
  if (find_facet(dish, spot.facet) == k_no_facet) return {no_such_facet(dish, spot.facet, place)};
  Problems problems = problems_of(spot, place);
  if (!problems.empty()) return problems;
  auto& spots = dish.rounds[round].spots;
  const auto found = std::find_if(spots.begin(), spots.end(),
                                  [&](const Spot& other) { return other.facet == spot.facet; });
  if (found == spots.end()) {
    spots.push_back(spot);
  } else {
    *found = spot;
  }
  return {};
}

Problems remove_spot(Dish& dish, std::size_t round, const FacetId& facet) {
  if (round >= dish.rounds.size()) return {no_such_number("round", round, dish.rounds.size())};
  auto& spots = dish.rounds[round].spots;
  const auto found = std::find_if(spots.begin(), spots.end(),
                                  [&](const Spot& spot) { return spot.facet == facet; });
  if (found == spots.end())
    return {{place_of_round(dish, round), fmt::format("no spot of {}", place_of(facet)),
             "a facet whose spot is in this round"}};
  spots.erase(found);
  return {};
}

namespace {

Problems problems_of_turns(const Dish& dish, const std::vector<Turned>& log,
                           const std::string& place) {
  Problems problems;
  for (const Turned& turned : log) {
    append(problems, unknown_screw(dish, turned, place));
    append(problems, problems_of(turned, place));
  }
  return problems;
}

Problems move_screws(Dish& dish, const std::vector<edit::Moved>& all_moved) {
  Problems problems;
  for (const edit::Moved& moved : all_moved) {
    append(problems, change_facet(dish, moved.facet, [&](Facet& facet) {
             facet.displacement_m = moved.displacement_m;
           }));
  }
  return problems;
}

}  // namespace

Problems record_turns(Dish& dish, const edit::RecordTurns& wish) {
  if (wish.round >= dish.rounds.size())
    return {no_such_number("round", wish.round, dish.rounds.size())};
  const std::string place = place_of_round(dish, wish.round);
  Problems problems = problems_of_turns(dish, wish.turned, place);
  append(problems, problems_of_turns(dish, wish.told, place));
  if (!problems.empty()) return problems;
  problems = move_screws(dish, wish.moved);
  if (!problems.empty()) return problems;
  Round& round = dish.rounds[wish.round];
  round.turned.insert(round.turned.end(), wish.turned.begin(), wish.turned.end());
  round.told.insert(round.told.end(), wish.told.begin(), wish.told.end());
  if (wish.left_out) round.left_out = *wish.left_out;
  return {};
}

Problems amend_turns(Dish& dish, const edit::AmendTurns& wish) {
  if (wish.round >= dish.rounds.size())
    return {no_such_number("round", wish.round, dish.rounds.size())};
  const std::string place = place_of_round(dish, wish.round);
  if (find_facet(dish, wish.facet) == k_no_facet) return {no_such_facet(dish, wish.facet, place)};
  Problems problems = problems_of_turns(dish, wish.turned, place);
  for (const Turned& turned : wish.turned) {
    if (turned.facet != wish.facet)
      problems.push_back({place_of(turned.facet), "turns among those of " + place_of(wish.facet),
                          "turns of one facet only"});
  }
  if (wish.moved && wish.moved->facet != wish.facet)
    problems.push_back(
        {place_of(wish.moved->facet), "moved with " + place_of(wish.facet), "one facet only"});
  if (!problems.empty()) return problems;
  if (wish.moved) problems = move_screws(dish, {*wish.moved});
  if (!problems.empty()) return problems;
  // The facet keeps its place in the log.
  auto& log = dish.rounds[wish.round].turned;
  const auto is_its = [&](const Turned& turned) { return turned.facet == wish.facet; };
  const auto at = std::find_if(log.begin(), log.end(), is_its) - log.begin();
  log.erase(std::remove_if(log.begin(), log.end(), is_its), log.end());
  log.insert(log.begin() + at, wish.turned.begin(), wish.turned.end());
  return {};
}

Problems remove_round(Dish& dish, std::size_t index) {
  Problems problems = remove_at(dish.rounds, index, "round");
  if (!problems.empty()) return problems;
  // Unknown keys stand by the number of their round: "rounds[2]/spots[0]".
  auto& unknown = dish.unknown;
  unknown.erase(std::remove_if(unknown.begin(), unknown.end(),
                               [&](const UnknownKey& key) { return round_of_key(key) == index; }),
                unknown.end());
  for (UnknownKey& key : unknown) {
    const auto round = round_of_key(key);
    if (round && *round > index) {
      key.place =
          fmt::format("rounds[{}]{}", *round - 1, key.place.substr(key.place.find(']') + 1));
    }
  }
  return {};
}

Problems undo_round(Dish& dish, const edit::UndoRound& wish) {
  if (dish.rounds.empty()) return {{"rounds", "none is logged", "a round to take back"}};
  Problems problems = move_screws(dish, wish.moved);
  if (!problems.empty()) return problems;
  return remove_round(dish, dish.rounds.size() - 1);
}

}  // namespace dish
