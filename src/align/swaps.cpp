// Facets that received each other's turns: the best assignment of turns to spots.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "align/labels.h"
#include "base/assignment.h"

namespace align {
namespace {

/// Every facet was turned as somebody: nobody goes without.
constexpr double k_never_nothing = 1e300;

std::vector<std::size_t> rounds_of(const FacetHistory& history) {
  std::vector<std::size_t> rounds;
  for (const Look& look : history.looks) rounds.push_back(look.round);
  return rounds;
}

double log_of_turns(const FacetHistory& whose_spot, const FacetHistory& whose_turns,
                    const LearningRequest& request) {
  std::vector<Response> responses;
  std::vector<Turns> turns;
  for (std::size_t i = 0; i < whose_spot.moves.size(); ++i) {
    responses.push_back(whose_spot.moves[i].nominal);
    turns.push_back(whose_turns.moves[i].done);
  }
  return log_likelihood(whose_spot, responses, turns, request);
}

void find_among(const std::vector<const FacetHistory*>& group, const LearningRequest& request,
                std::vector<Swap>& swaps) {
  const std::size_t n = group.size();
  base::CostTable table(n, n);
  for (std::size_t i = 0; i < n; ++i) {
    table.unassigned_cost[i] = k_never_nothing;
    for (std::size_t j = 0; j < n; ++j) {
      table.at(i, j) = -log_of_turns(*group[i], *group[j], request);
      if (i == j) table.at(i, j) -= k_own_turns_bonus;
    }
  }
  const base::Assignment assigned = base::assign(table);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t j = assigned.column_of[i];
    if (j == i) continue;
    swaps.push_back({.facet = group[i]->facet,
                     .turned_as = group[j]->facet,
                     .log_odds = table.at(i, i) + k_own_turns_bonus - table.at(i, j)});
  }
}

}  // namespace

std::vector<Swap> find_swaps(const dish::Dish& dish, const std::vector<FacetHistory>& histories,
                             const LearningRequest& request) {
  std::map<std::vector<std::size_t>, std::vector<const FacetHistory*>> groups;
  for (const FacetHistory& history : histories) {
    if (!history.moves.empty()) groups[rounds_of(history)].push_back(&history);
  }
  std::vector<Swap> swaps;
  for (auto& [rounds, group] : groups) {
    if (group.size() > k_most_swapped) {
      std::vector<const FacetHistory*> odd;
      for (const FacetHistory* history : group) {
        const FacetLearning learning = learn(dish, *history, request);
        const bool contradicts =
            std::any_of(learning.moves.begin(), learning.moves.end(),
                        [](const MoveReport& move) { return move.mishap != Mishap::none; });
        if (contradicts && odd.size() < k_most_swapped) odd.push_back(history);
      }
      group = std::move(odd);
    }
    if (group.size() > 1) find_among(group, request, swaps);
  }
  return swaps;
}

std::string sentence_of(const dish::Dish& dish, const Swap& swap) {
  return fmt::format(
      "Facet {} moved as facet {} was to be turned: the two were probably taken for each other. "
      "Look at their numbers.",
      dish.facets[swap.facet].id.text, dish.facets[swap.turned_as].id.text);
}

}  // namespace align
