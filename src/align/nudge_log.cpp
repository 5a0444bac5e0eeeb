// Where the nudge stands is read from the log alone, so that it goes with the file.
#include <fmt/format.h>

#include <algorithm>

#include "align/facet_setup.h"
#include "align/nudge.h"

namespace align {
namespace {

const dish::Spot* spot_of(const dish::Round& round, const dish::FacetId& facet) {
  for (const dish::Spot& spot : round.spots) {
    if (spot.facet == facet) return &spot;
  }
  return nullptr;
}

/// Those that were turned; before any turn, those that are to be.
std::vector<std::size_t> facets_of(const dish::Dish& dish, const dish::Round& first) {
  std::vector<std::size_t> facets;
  for (const dish::Turned& turned : first.turned) {
    const std::size_t facet = dish::find_facet(dish, turned.facet);
    if (facet != dish::k_no_facet) facets.push_back(facet);
  }
  return facets.empty() ? nudge_facets(dish) : facets;
}

/// "B2", "B2 and D5".
std::string names_of(const dish::Dish& dish, const std::vector<std::size_t>& facets) {
  std::string names;
  for (const std::size_t facet : facets) {
    names += (names.empty() ? "" : " and ") + dish.facets[facet].id.text;
  }
  return names;
}

}  // namespace

std::string nudge_round_name(std::size_t look) {
  return fmt::format("Trial of the screws, look {}", look + 1);
}

bool is_nudge_round(const dish::Round& round) {
  for (std::size_t look = 0; look < k_nudge_looks; ++look) {
    if (round.name == nudge_round_name(look)) return true;
  }
  return false;
}

std::optional<Nudge> nudge_in_log(const dish::Dish& dish) {
  const auto& rounds = dish.rounds;
  std::size_t first = rounds.size();
  for (std::size_t i = 0; i < rounds.size(); ++i) {
    if (rounds[i].name == nudge_round_name(0)) first = i;
  }
  if (first == rounds.size()) return std::nullopt;
  Nudge nudge{.first_round = first, .looks = 1, .facets = facets_of(dish, rounds[first])};
  while (nudge.looks < k_nudge_looks && first + nudge.looks < rounds.size() &&
         rounds[first + nudge.looks].name == nudge_round_name(nudge.looks)) {
    ++nudge.looks;
  }
  const dish::Round& last = rounds[first + nudge.looks - 1];
  nudge.is_seen = !nudge.facets.empty() &&
                  std::all_of(nudge.facets.begin(), nudge.facets.end(), [&](std::size_t facet) {
                    return spot_of(last, dish.facets[facet].id) != nullptr;
                  });
  return nudge;
}

std::string nudge_step(const dish::Dish& dish, const Nudge& nudge) {
  const std::string names = names_of(dish, nudge.facets);
  if (is_over(nudge) || nudge.facets.empty()) return "All four looks are in.";
  const std::string one_by_one = nudge.facets.size() > 1 ? ", one after the other" : "";
  if (!nudge.is_seen) {
    return fmt::format("Uncover {} alone{}, and enter where its spot lies{}.", names, one_by_one,
                       nudge.looks == 1 ? "" : " now");
  }
  const dish::Mount& mount = *dish::find_mount(dish, dish.facets[nudge.facets.front()].mount);
  const dish::Adjuster& screw = mount.adjusters[nudge.looks - 1];
  return fmt::format("Turn screw {} of {} half a turn clockwise, seen from the {}.", screw.label,
                     names, screw.turned_from == dish::Side::back ? "back" : "front");
}

base::Result<std::vector<dish::Edit>> next_nudge(const dish::Dish& dish, const Nudge& nudge) {
  if (!nudge.is_seen || nudge.looks >= k_nudge_looks) {
    return base::Problem{nudge_round_name(nudge.looks - 1), "it is not seen, or is the last",
                         "a spot of each facet, then the next screw"};
  }
  const std::size_t round = nudge.first_round + nudge.looks - 1;
  dish::edit::RecordTurns record{.round = round};
  for (const std::size_t facet : nudge.facets) {
    const auto setup = set_up(dish, dish.facets[facet]);
    if (!setup) return setup.problems();
    const std::size_t screw = nudge.looks - 1;
    record.turned.push_back({.facet = dish.facets[facet].id,
                             .screw = setup.value().mount->adjusters[screw].label,
                             .turns = k_nudge_turns});
    dish::edit::Moved moved{dish.facets[facet].id, dish.facets[facet].displacement_m};
    moved.displacement_m[screw] += k_nudge_turns * setup.value().rise_per_turn_m[screw];
    record.moved.push_back(moved);
  }
  record.told = record.turned;
  dish::Round next{.name = nudge_round_name(nudge.looks),
                   .source = dish.rounds[round].source,
                   .board = dish.rounds[round].board};
  return std::vector<dish::Edit>{record, dish::edit::AddRound{std::move(next)}};
}

base::Result<NudgeVerdict> read_nudge(const dish::Dish& dish, const Nudge& nudge,
                                      double spot_sigma_m) {
  if (!is_over(nudge)) {
    return base::Problem{"the trial of the screws", fmt::format("{} looks", nudge.looks),
                         fmt::format("{} looks with every spot", k_nudge_looks)};
  }
  std::vector<std::array<base::Vec2, k_nudge_looks>> seen;
  for (const std::size_t facet : nudge.facets) {
    std::array<base::Vec2, k_nudge_looks> looks{};
    for (std::size_t look = 0; look < k_nudge_looks; ++look) {
      const dish::Spot* spot =
          spot_of(dish.rounds[nudge.first_round + look], dish.facets[facet].id);
      if (spot == nullptr) {
        return base::Problem{nudge_round_name(look), "no spot of " + dish.facets[facet].id.text,
                             "one of each facet"};
      }
      looks[look] = spot->seen_m;
    }
    seen.push_back(looks);
  }
  return read_nudge(dish, sighting_of(dish, dish.rounds[nudge.first_round]), nudge.facets, seen,
                    spot_sigma_m);
}

}  // namespace align
