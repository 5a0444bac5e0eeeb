// One overload of `change` for each edit: judge the wish, then make it.
#include "dish/edit.h"

#include <fmt/format.h>

#include <cmath>

#include "dish/checks.h"
#include "dish/edit_parts.h"
#include "dish/merge.h"
#include "dish/part_checks.h"

namespace dish {
namespace {

using base::Problem;
using base::Problems;
using ranges::Quantity;

/// Puts the judged part in its place, or gives back what is wrong.
template <class T>
Problems put(T& place, T part, Problems problems) {
  if (problems.empty()) place = std::move(part);
  return problems;
}

template <class T>
Problems put(T& place, T part) {
  Problems problems = problems_of(part);
  return put(place, std::move(part), std::move(problems));
}

/// A problem of the number alone, or the number in its place.
Problems put_number(double& place, Quantity quantity, double si, const std::string& where) {
  if (auto problem = ranges::problem_of(quantity, si, where)) return {std::move(*problem)};
  place = si;
  return {};
}

Problems change(Dish& dish, const edit::SetName& wish) {
  dish.name = wish.name;
  return {};
}

Problems change(Dish& dish, const edit::SetNote& wish) {
  dish.note = wish.note;
  return {};
}

Problems change(Dish& dish, const edit::SetFocalLength& wish) {
  return put_number(dish.focal_length_m, Quantity::focal_length, wish.focal_length_m, "dish");
}

Problems change(Dish& dish, const edit::SetSun& wish) { return put(dish.sun, wish.sun); }

Problems change(Dish& dish, const edit::SetSite& wish) { return put(dish.site, wish.site); }

Problems change(Dish& dish, const edit::SetReceiver& wish) {
  Receiver receiver = wish.receiver;
  receiver.lit_normal = normalised(receiver.lit_normal);
  return put(dish.receiver, receiver);
}

Problems change(Dish& dish, const edit::SetSecondary& wish) {
  if (wish.secondary) {
    Problems problems = problems_of(*wish.secondary);
    if (!problems.empty()) return problems;
  }
  dish.secondary = wish.secondary;
  return {};
}

Problems change(Dish& dish, const edit::SetFacetCentre& wish) {
  return change_facet(dish, wish.facet, [&](Facet& facet) { facet.centre_m = wish.centre_m; });
}

Problems change(Dish& dish, const edit::SetFacetNormal& wish) {
  return change_facet(dish, wish.facet, [&](Facet& facet) {
    facet.normal = wish.normal;
    if (facet.normal) facet.normal = normalised(*facet.normal);
  });
}

Problems change(Dish& dish, const edit::SetFacetBracket& wish) {
  return change_facet(dish, wish.facet, [&](Facet& facet) { facet.bracket = wish.bracket; });
}

Problems change(Dish& dish, const edit::SetClocking& wish) {
  return change_facet(dish, wish.facet,
                      [&](Facet& facet) { facet.clocking_rad = wish.clocking_rad; });
}

Problems change(Dish& dish, const edit::SetFacetSagMap& wish) {
  return change_facet(dish, wish.facet, [&](Facet& facet) { facet.sag_map = wish.sag_map; });
}

Problems change(Dish& dish, const edit::SetAim& wish) {
  return change_facet(dish, wish.facet, [&](Facet& facet) { facet.aim_m = wish.aim_m; });
}

Problems change(Dish& dish, const edit::SetFacetType& wish) {
  return change_facet(dish, wish.facet, [&](Facet& facet) { facet.type = wish.type; });
}

Problems change(Dish& dish, const edit::SetFacetMount& wish) {
  return change_facet(dish, wish.facet, [&](Facet& facet) { facet.mount = wish.mount; });
}

Problems change(Dish& dish, const edit::SetDisplacement& wish) {
  if (wish.screw < 0 || wish.screw > 2)
    return {{place_of(wish.facet), fmt::format("screw number {}", wish.screw + 1), "1, 2 or 3"}};
  return change_facet(dish, wish.facet, [&](Facet& facet) {
    facet.displacement_m[static_cast<std::size_t>(wish.screw)] = wish.displacement_m;
  });
}

Problems change(Dish& dish, const edit::SetDisplacements& wish) {
  return change_facet(dish, wish.facet,
                      [&](Facet& facet) { facet.displacement_m = wish.displacement_m; });
}

Problems change(Dish& dish, const edit::ResetDisplacements& wish) {
  const std::array<double, 3> nominal{0.0, 0.0, 0.0};
  if (wish.facet)
    return change_facet(dish, *wish.facet, [&](Facet& facet) { facet.displacement_m = nominal; });
  for (Facet& facet : dish.facets) facet.displacement_m = nominal;
  return {};
}

Problems change(Dish& dish, const edit::AddFacet& wish) { return add_facet(dish, wish.facet); }

Problems change(Dish& dish, const edit::RemoveFacet& wish) {
  const std::size_t index = find_facet(dish, wish.facet);
  if (index == k_no_facet) return {no_such_facet(dish, wish.facet, "edit")};
  if (dish.facets.size() == 1)
    return {{place_of(wish.facet), "the last facet", "at least one facet in a dish"}};
  dish.facets.erase(dish.facets.begin() + static_cast<std::ptrdiff_t>(index));
  drop_lost_facets(dish);
  return {};
}

Problems change(Dish& dish, const edit::ReplaceFacets& wish) {
  return replace_facets(dish, wish.layout);
}

Problems change(Dish& dish, const edit::UpsertFacetType& wish) {
  Problems problems = problems_of(wish.type);
  for (const Facet& facet : dish.facets) {
    if (!problems.empty()) break;
    if (facet.type != wish.type.name || !facet.sag_map) continue;
    problems = map_misfit(*facet.sag_map, wish.type.outline, place_of(facet.id) + ", sag map");
  }
  return upsert(dish.facet_types, wish.type, std::move(problems));
}

Problems change(Dish& dish, const edit::UpsertMount& wish) {
  Problems problems = problems_of(wish.mount);
  for (Problem& problem : unknown_names(dish, wish.mount)) problems.push_back(std::move(problem));
  return upsert(dish.mounts, wish.mount, std::move(problems));
}

Problems change(Dish& dish, const edit::UpsertSpring& wish) {
  return upsert(dish.springs, wish.spring, problems_of(wish.spring));
}

Problems change(Dish& dish, const edit::RemoveFacetType& wish) {
  const auto users = facets_with(dish, [&](const Facet& facet) { return facet.type == wish.type; });
  return remove_kind(dish.facet_types, wish.type, users);
}

Problems change(Dish& dish, const edit::RemoveMount& wish) {
  const auto users =
      facets_with(dish, [&](const Facet& facet) { return facet.mount == wish.mount; });
  return remove_kind(dish.mounts, wish.mount, users);
}

Problems change(Dish& dish, const edit::RemoveSpring& wish) {
  std::string users;
  for (const Mount& mount : dish.mounts) {
    if (mount.spring == wish.spring && users.empty()) users = place_of(mount.name);
  }
  return remove_kind(dish.springs, wish.spring, users);
}

Problems change(Dish& dish, const edit::AddRound& wish) { return add_round(dish, wish.round); }

Problems change(Dish& dish, const edit::ReplaceRound& wish) {
  return replace_round(dish, wish.index, wish.round);
}

Problems change(Dish& dish, const edit::RemoveRound& wish) {
  return remove_round(dish, wish.index);
}

Problems change(Dish& dish, const edit::SetSpot& wish) {
  return set_spot(dish, wish.round, wish.spot);
}

Problems change(Dish& dish, const edit::RemoveSpot& wish) {
  return remove_spot(dish, wish.round, wish.facet);
}

Problems change(Dish& dish, const edit::RecordTurns& wish) { return record_turns(dish, wish); }

Problems change(Dish& dish, const edit::AmendTurns& wish) { return amend_turns(dish, wish); }

Problems change(Dish& dish, const edit::UndoRound& wish) { return undo_round(dish, wish); }

Problems change(Dish& dish, const edit::MergeRounds& wish) {
  auto merged = merge_rounds(dish, wish.other);
  if (!merged) return merged.problems();
  dish = std::move(merged).value().dish;
  return {};
}

Problems change(Dish& dish, const edit::AddBlocker& wish) {
  Problems problems = problems_of(wish.blocker, "shading part " + wish.blocker.name);
  if (problems.empty()) dish.blockers.push_back(wish.blocker);
  return problems;
}

Problems change(Dish& dish, const edit::ReplaceBlocker& wish) {
  if (wish.index >= dish.blockers.size())
    return {no_such_number("shading part", wish.index, dish.blockers.size())};
  Problems problems = problems_of(wish.blocker, place_of_blocker(dish, wish.index));
  return put(dish.blockers[wish.index], wish.blocker, std::move(problems));
}

Problems change(Dish& dish, const edit::RemoveBlocker& wish) {
  return remove_at(dish.blockers, wish.index, "shading part");
}

Problems change(Dish& dish, const edit::ReplaceDish& wish) {
  Problems problems = errors_of(wish.dish);
  return put(dish, wish.dish, std::move(problems));
}

}  // namespace

base::Result<Dish> apply(Dish dish, const Edit& edit) {
  Problems problems = std::visit([&](const auto& wish) { return change(dish, wish); }, edit);
  if (!problems.empty()) return problems;
  return dish;
}

}  // namespace dish
