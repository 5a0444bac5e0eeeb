// The whole dish: every part alone, then what the parts say of each other, then the doubts.
#include "dish/checks.h"

#include <fmt/format.h>

#include <set>

#include "dish/doubts.h"
#include "dish/overlap.h"
#include "dish/part_checks.h"
#include "dish/recipes.h"

namespace dish {
namespace {

using base::Problem;
using base::Problems;
using ranges::Quantity;

constexpr std::size_t k_named = 10;  ///< of one kind, before the rest is only counted

/// Appends at most k_named of a kind, and how many more there are.
void append_some(Problems& to, Problems found, const std::string& where) {
  const std::size_t more = found.size() > k_named ? found.size() - k_named : 0;
  found.resize(found.size() - more);
  append(to, std::move(found));
  if (more > 0) to.push_back({where, fmt::format("{} more problems of this kind", more), ""});
}

/// Names that stand twice among things of one kind.
template <class T, class NameOf>
Problems doubled_names(const std::vector<T>& things, const char* kind, NameOf name_of) {
  std::set<std::string> seen;
  std::set<std::string> told;
  Problems problems;
  for (const T& thing : things) {
    const std::string& name = name_of(thing);
    if (seen.insert(name).second || !told.insert(name).second) continue;
    problems.push_back({fmt::format("{} {}", kind, name), "it is there twice",
                        fmt::format("a name of its own for each {}", kind)});
  }
  return problems;
}

void add_kinds(Problems& problems, const Dish& dish) {
  Problems found;
  for (const FacetType& type : dish.facet_types) append(found, problems_of(type));
  append(found, doubled_names(
                    dish.facet_types, "facet type",
                    [](const FacetType& t) -> auto& { return t.name.text; }));
  append_some(problems, std::move(found), "facet types");
  found = {};
  for (const Mount& mount : dish.mounts) {
    append(found, problems_of(mount));
    append(found, unknown_names(dish, mount));
  }
  append(found, doubled_names(
                    dish.mounts, "mount", [](const Mount& m) -> auto& { return m.name.text; }));
  append_some(problems, std::move(found), "mounts");
  found = {};
  for (const Spring& spring : dish.springs) append(found, problems_of(spring));
  append(found, doubled_names(
                    dish.springs, "spring", [](const Spring& s) -> auto& { return s.name.text; }));
  append_some(problems, std::move(found), "springs");
}

Problems coinciding(const Dish& dish) {
  Problems problems;
  for (const auto& [a, b] : coinciding_centres(dish, k_named))
    problems.push_back({place_of(dish.facets[b].id),
                        fmt::format("its centre is that of {}", place_of(dish.facets[a].id)),
                        "a place of its own"});
  return problems;
}

void add_facets(Problems& problems, const Dish& dish) {
  if (dish.facets.empty()) problems.push_back({"facets", "none", "at least one facet"});
  if (dish.facets.size() > k_most_facets)
    problems.push_back({"facets", fmt::format("{} facets", dish.facets.size()),
                        fmt::format("at most {}", k_most_facets)});
  Problems alone;
  Problems names;
  for (const Facet& facet : dish.facets) {
    append(alone, problems_of(facet));
    append(names, unknown_names(dish, facet));
  }
  const bool placed = alone.empty() && dish.facets.size() <= k_most_facets;
  append_some(problems, std::move(alone), "facets");
  append_some(problems, std::move(names), "facets");
  append_some(problems,
              doubled_names(
                  dish.facets, "facet", [](const Facet& f) -> auto& { return f.id.text; }),
              "facets");
  if (placed) append(problems, coinciding(dish));
}

void add_rounds(Problems& problems, const Dish& dish) {
  for (std::size_t i = 0; i < dish.rounds.size(); ++i) {
    const std::string place = place_of_round(dish, i);
    append_some(problems, problems_of(dish.rounds[i], place), place);
    append_some(problems, unknown_facets(dish, dish.rounds[i], place), place);
    append_some(problems, doubled_spots(dish.rounds[i], place), place);
  }
}

/// "value; expected ...", without the place.
std::string sentence_of(const Problem& problem) {
  return base::to_line({.value = problem.value, .expected = problem.expected});
}

}  // namespace

Problems errors_of(const Dish& dish) {
  Problems problems;
  if (auto problem = ranges::problem_of(Quantity::focal_length, dish.focal_length_m, "dish"))
    problems.push_back(std::move(*problem));
  append(problems, problems_of(dish.sun));
  append(problems, problems_of(dish.site));
  add_kinds(problems, dish);
  add_facets(problems, dish);
  if (dish.secondary) append(problems, problems_of(*dish.secondary));
  append(problems, problems_of(dish.receiver));
  Problems shading;
  for (std::size_t i = 0; i < dish.blockers.size(); ++i)
    append(shading, problems_of(dish.blockers[i], place_of_blocker(dish, i)));
  append_some(problems, std::move(shading), "shading parts");
  add_rounds(problems, dish);
  return problems;
}

std::vector<Finding> check(const Dish& dish) {
  std::vector<Finding> findings;
  for (const Problem& problem : errors_of(dish))
    findings.push_back({Severity::error, problem.place, sentence_of(problem)});
  if (!findings.empty()) return findings;
  for (auto* doubts : {&mount_doubts, &layout_doubts, &round_doubts}) {
    for (Finding& finding : doubts(dish)) findings.push_back(std::move(finding));
  }
  return findings;
}

std::string to_line(const Finding& finding) {
  return finding.place.empty() ? finding.sentence : finding.place + ": " + finding.sentence;
}

}  // namespace dish
