// Facets that received each other's turns: the best assignment of turns to spots.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "align/labels.h"

namespace align {
namespace {

/// Least total cost of an assignment of columns to rows (square): shortest augmenting paths with
/// potentials. Source: Kuhn 1955, Munkres 1957; this form is folklore.
std::vector<std::size_t> assign_least(const std::vector<std::vector<double>>& cost) {
  const std::size_t n = cost.size();
  std::vector<double> row_price(n + 1, 0.0);
  std::vector<double> column_price(n + 1, 0.0);
  std::vector<std::size_t> row_of(n + 1, 0);  // row of each column, 1-based; 0: none
  for (std::size_t row = 1; row <= n; ++row) {
    row_of[0] = row;
    std::size_t column = 0;
    std::vector<double> slack(n + 1, INFINITY);
    std::vector<std::size_t> way(n + 1, 0);
    std::vector<bool> used(n + 1, false);
    while (row_of[column] != 0) {
      used[column] = true;
      const std::size_t at = row_of[column];
      double least = INFINITY;
      std::size_t next = 0;
      for (std::size_t j = 1; j <= n; ++j) {
        if (used[j]) continue;
        const double reduced = cost[at - 1][j - 1] - row_price[at] - column_price[j];
        if (reduced < slack[j]) {
          slack[j] = reduced;
          way[j] = column;
        }
        if (slack[j] < least) {
          least = slack[j];
          next = j;
        }
      }
      for (std::size_t j = 0; j <= n; ++j) {
        if (used[j]) {
          row_price[row_of[j]] += least;
          column_price[j] -= least;
        } else {
          slack[j] -= least;
        }
      }
      column = next;
    }
    while (column != 0) {
      row_of[column] = row_of[way[column]];
      column = way[column];
    }
  }
  std::vector<std::size_t> column_of(n, 0);
  for (std::size_t j = 1; j <= n; ++j) column_of[row_of[j] - 1] = j - 1;
  return column_of;
}

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
  std::vector<std::vector<double>> cost(n, std::vector<double>(n));
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      cost[i][j] = -log_of_turns(*group[i], *group[j], request);
      if (i == j) cost[i][j] -= k_own_turns_bonus;
    }
  }
  const std::vector<std::size_t> assigned = assign_least(cost);
  for (std::size_t i = 0; i < n; ++i) {
    if (assigned[i] == i) continue;
    swaps.push_back({.facet = group[i]->facet,
                     .turned_as = group[assigned[i]]->facet,
                     .log_odds = cost[i][i] + k_own_turns_bonus - cost[i][assigned[i]]});
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
