// Rounds: spots and turns of facets that are there, each facet's spot once.
#include <fmt/format.h>

#include <set>
#include <string_view>

#include "dish/part_checks.h"

namespace dish {
namespace {

using base::Problems;
using ranges::Quantity;

void judge_source(Judge& judge, const Source& source) {
  if (const auto* sun = std::get_if<SunSource>(&source))
    judge.pair(Quantity::tracking_error, sun->tracking_error_rad);
  if (const auto* lamp = std::get_if<LampSource>(&source))
    judge.point(Quantity::lamp_position, lamp->position_m);
}

}  // namespace

Problems problems_of(const Spot& spot, const std::string& place) {
  Judge judge(fmt::format("{}, spot of {}", place, place_of(spot.facet)));
  judge.pair(Quantity::spot_seen, spot.seen_m);
  if (spot.sigma_m) judge.number(Quantity::spot_sigma, *spot.sigma_m);
  return judge.take();
}

Problems problems_of(const Turned& turned, const std::string& place) {
  Judge judge(fmt::format("{}, turns of {}", place, place_of(turned.facet)));
  judge.name("the screw's label", turned.screw);
  judge.number(Quantity::turns, turned.turns);
  return judge.take();
}

Problems problems_of(const Round& round, const std::string& place) {
  Judge judge(place);
  judge_source(judge, round.source);
  if (round.board) {
    judge.point(Quantity::board_centre, round.board->centre_m);
    judge.direction("lit_normal", round.board->lit_normal);
    judge.point(Quantity::direction, round.board->up);
  }
  Problems problems = judge.take();
  for (const Spot& spot : round.spots) append(problems, problems_of(spot, place));
  for (const auto* log : {&round.told, &round.turned}) {
    for (const Turned& turned : *log) append(problems, problems_of(turned, place));
  }
  return problems;
}

Problems unknown_facets(const Dish& dish, const Round& round, const std::string& place) {
  std::set<std::string_view> known;
  for (const Facet& facet : dish.facets) known.insert(facet.id.text);
  // The closest id is looked for a few times only: it costs a walk through all facets.
  constexpr std::size_t k_most_hints = 5;
  Problems problems;
  std::set<std::string_view> told;
  const auto judge = [&](const FacetId& facet, const char* what) {
    if (known.count(facet.text) != 0 || !told.insert(facet.text).second) return;
    const std::string where = fmt::format("{}, {}", place, what);
    if (problems.size() < k_most_hints) {
      problems.push_back(no_such_facet(dish, facet, where));
    } else {
      problems.push_back({where, fmt::format("facet \"{}\"", facet.text), "a facet of this dish"});
    }
  };
  for (const Spot& spot : round.spots) judge(spot.facet, "spots");
  for (const Turned& turned : round.told) judge(turned.facet, "turns told");
  for (const Turned& turned : round.turned) judge(turned.facet, "turns");
  return problems;
}

Problems doubled_spots(const Round& round, const std::string& place) {
  std::set<std::string_view> seen;
  std::set<std::string_view> told;
  Problems problems;
  for (const Spot& spot : round.spots) {
    if (seen.insert(spot.facet.text).second || !told.insert(spot.facet.text).second) continue;
    problems.push_back({place + ", spots",
                        fmt::format("facet \"{}\" has two spots", spot.facet.text),
                        "one spot for each facet in a round"});
  }
  return problems;
}

}  // namespace dish
