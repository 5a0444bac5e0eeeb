// Edits of facets: one at a time, or all of them by a layout.
#include <cmath>
#include <map>
#include <set>

#include "dish/defaults.h"
#include "dish/doubts.h"
#include "dish/edit_parts.h"
#include "dish/overlap.h"

namespace dish {
namespace {

using base::Problem;
using base::Problems;

/// What is wrong with a facet among the others; `self` is the one it takes the place of.
Problems problems_among(const Dish& dish, const Facet& facet, std::size_t self) {
  Problems problems = problems_of(facet);
  append(problems, unknown_names(dish, facet));
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    if (i == self) continue;
    const Facet& other = dish.facets[i];
    if (other.id == facet.id)
      problems.push_back({place_of(facet.id), "it is there already", "an id of its own"});
    if (glm::distance(other.centre_m, facet.centre_m) <= k_same_place_m)
      problems.push_back({place_of(facet.id),
                          fmt::format("its centre is that of {}", place_of(other.id)),
                          "a place of its own"});
  }
  return problems;
}

/// Gives each petal ring's type its outline; makes types that are not there.
Problems fit_petal_types(Dish& dish, const PetalsLayout& layout) {
  for (std::size_t ring = 0; ring < layout.rings.size(); ++ring) {
    const auto outline = petal_outline(layout, ring, dish.focal_length_m);
    if (!outline) return outline.problems();
    const FacetType* known = find_facet_type(dish, layout.rings[ring].type);
    FacetType type = known != nullptr ? *known : default_facet_type(dish.focal_length_m);
    type.name = layout.rings[ring].type;
    type.outline = outline.value();
    Problems problems = problems_of(type);
    problems = upsert(dish.facet_types, type, std::move(problems));
    if (!problems.empty()) return problems;
  }
  return {};
}

/// Two rings that share a type would need one outline to be two.
Problems shared_petal_types(const PetalsLayout& layout) {
  std::set<FacetTypeName> names;
  for (const PetalRing& ring : layout.rings) {
    if (!names.insert(ring.type).second)
      return {{"layout, rings", fmt::format("two rings of type \"{}\"", ring.type.text),
               "a facet type of its own for each ring"}};
  }
  return {};
}

/// Names that the layout uses and the dish does not have; each told once.
Problems unknown_kinds(const Dish& dish) {
  std::set<std::pair<FacetTypeName, MountName>> seen;
  Problems problems;
  for (const Facet& facet : dish.facets) {
    if (!seen.insert({facet.type, facet.mount}).second) continue;
    for (Problem& problem : unknown_names(dish, facet)) {
      problem.place = "layout";
      problems.push_back(std::move(problem));
    }
  }
  return problems;
}

}  // namespace

base::Vec3 normalised(const base::Vec3& direction) {
  const double length = glm::length(direction);
  return length > 0.0 && std::isfinite(length) ? direction / length : direction;
}

Problem no_such_number(const std::string& what, std::size_t index, std::size_t count) {
  if (count == 0) return {"edit", fmt::format("{} {}", what, index + 1), "none: there are none"};
  return {"edit", fmt::format("{} {}", what, index + 1),
          fmt::format("a number from 1 to {}", count)};
}

Problems change_facet(Dish& dish, const FacetId& id, const std::function<void(Facet&)>& how) {
  const std::size_t index = find_facet(dish, id);
  if (index == k_no_facet) return {no_such_facet(dish, id, "edit")};
  Facet facet = dish.facets[index];
  how(facet);
  // Only a facet that was moved can come to stand where another one is.
  Problems problems;
  if (facet.centre_m == dish.facets[index].centre_m) {
    problems = problems_of(facet);
    append(problems, unknown_names(dish, facet));
  } else {
    problems = problems_among(dish, facet, index);
  }
  if (problems.empty()) dish.facets[index] = std::move(facet);
  return problems;
}

Problems add_facet(Dish& dish, const Facet& facet) {
  if (dish.facets.size() >= k_most_facets)
    return {{"edit", fmt::format("facet number {}", dish.facets.size() + 1),
             fmt::format("at most {} facets", k_most_facets)}};
  Facet added = facet;
  if (added.normal) added.normal = normalised(*added.normal);
  Problems problems = problems_among(dish, added, k_no_facet);
  if (problems.empty()) dish.facets.push_back(std::move(added));
  return problems;
}

Problems replace_facets(Dish& dish, const Layout& layout) {
  auto laid = lay_out(layout, dish.focal_length_m);
  if (!laid) return laid.problems();
  if (const auto* petals = std::get_if<PetalsLayout>(&layout)) {
    Problems problems = shared_petal_types(*petals);
    if (problems.empty()) problems = fit_petal_types(dish, *petals);
    if (!problems.empty()) return problems;
  }
  // Facets whose id stays keep what a person set on them.
  std::map<FacetId, const Facet*> before;
  for (const Facet& facet : dish.facets) before.insert({facet.id, &facet});
  std::vector<Facet> facets = std::move(laid).value();
  for (Facet& facet : facets) {
    const auto found = before.find(facet.id);
    if (found == before.end()) continue;
    facet.aim_m = found->second->aim_m;
    if (!facet.mount.text.empty()) facet.displacement_m = found->second->displacement_m;
  }
  dish.facets = std::move(facets);
  Problems problems = unknown_kinds(dish);
  if (problems.empty()) drop_lost_facets(dish);
  return problems;
}

void drop_lost_facets(Dish& dish) {
  std::set<FacetId> known;
  for (const Facet& facet : dish.facets) known.insert(facet.id);
  const auto is_lost = [&](const auto& row) { return known.count(row.facet) == 0; };
  for (Round& round : dish.rounds) {
    auto& spots = round.spots;
    spots.erase(std::remove_if(spots.begin(), spots.end(), is_lost), spots.end());
    for (auto* log : {&round.told, &round.turned}) {
      log->erase(std::remove_if(log->begin(), log->end(), is_lost), log->end());
    }
  }
}

std::string facets_with(const Dish& dish, const std::function<bool(const Facet&)>& is_user) {
  std::vector<FacetId> ids;
  for (const Facet& facet : dish.facets) {
    if (is_user(facet)) ids.push_back(facet.id);
  }
  return ids.empty() ? std::string() : places_of(ids);
}

}  // namespace dish
