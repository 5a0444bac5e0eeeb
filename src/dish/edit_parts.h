// What several edits share. Part of dish/edit; each returns what is wrong and changes nothing then.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

#include "dish/edit.h"
#include "dish/part_checks.h"

namespace dish {

/// A direction of length 1; unchanged when it has no length or is not finite.
base::Vec3 normalised(const base::Vec3& direction);

/// "round 7 of 3 is not there".
base::Problem no_such_number(const std::string& what, std::size_t index, std::size_t count);

/// Changes one facet and judges it where it then stands among the others.
base::Problems change_facet(Dish& dish, const FacetId& id, const std::function<void(Facet&)>& how);

base::Problems add_facet(Dish& dish, const Facet& facet);
base::Problems replace_facets(Dish& dish, const Layout& layout);

/// Takes spots and turns of facets that are gone out of all rounds.
void drop_lost_facets(Dish& dish);

/// First facets of which `is_user` holds, for a message; empty when there are none.
std::string facets_with(const Dish& dish, const std::function<bool(const Facet&)>& is_user);

base::Problems add_round(Dish& dish, const Round& round);
base::Problems replace_round(Dish& dish, std::size_t index, const Round& round);
base::Problems set_spot(Dish& dish, std::size_t round, const Spot& spot);
base::Problems remove_spot(Dish& dish, std::size_t round, const FacetId& facet);
base::Problems record_turns(Dish& dish, const edit::RecordTurns& wish);
base::Problems amend_turns(Dish& dish, const edit::AmendTurns& wish);
/// Removes a round; unknown keys of the rounds after it go along with them.
base::Problems remove_round(Dish& dish, std::size_t index);
base::Problems undo_round(Dish& dish, const edit::UndoRound& wish);

/// Replaces the kind of the same name, or adds it at the end.
template <class T>
base::Problems upsert(std::vector<T>& kinds, const T& kind, base::Problems problems) {
  if (!problems.empty()) return problems;
  const auto found = std::find_if(kinds.begin(), kinds.end(),
                                  [&](const T& other) { return other.name == kind.name; });
  if (found == kinds.end()) {
    kinds.push_back(kind);
  } else {
    *found = kind;
  }
  return {};
}

/// Removes a kind that nobody uses; `users` names who does.
template <class T, class N>
base::Problems remove_kind(std::vector<T>& kinds, const N& name, const std::string& users) {
  const auto found =
      std::find_if(kinds.begin(), kinds.end(), [&](const T& kind) { return kind.name == name; });
  if (found == kinds.end()) return {{"edit", place_of(name), "a name that is in the dish"}};
  if (!users.empty()) return {{place_of(name), "it is used by " + users, "one that nothing uses"}};
  kinds.erase(found);
  return {};
}

/// Removes the index-th thing.
template <class T>
base::Problems remove_at(std::vector<T>& things, std::size_t index, const std::string& what) {
  if (index >= things.size()) return {no_such_number(what, index, things.size())};
  things.erase(things.begin() + static_cast<std::ptrdiff_t>(index));
  return {};
}

}  // namespace dish
