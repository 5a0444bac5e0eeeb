// Shortest augmenting paths on reduced costs.
#include "base/assignment.h"

#include <algorithm>

#include "base/check.h"
#include "base/sums.h"

namespace base {
namespace {

constexpr double k_never = std::numeric_limits<double>::infinity();

/// The search tree of one row: how far each column is, and from which row it was reached.
struct PathSearch {
  std::vector<double> distance;
  std::vector<std::size_t> from_row;
  std::vector<bool> done;
  std::vector<std::size_t> order;  ///< columns whose rows are in the tree

  explicit PathSearch(std::size_t columns)
      : distance(columns, k_never), from_row(columns, k_unassigned), done(columns, false) {}

  void restart() {
    std::fill(distance.begin(), distance.end(), k_never);
    std::fill(done.begin(), done.end(), false);
    order.clear();
  }
};

void reach_from(const CostTable& table, const Assignment& state, std::size_t row, double so_far,
                PathSearch& search) {
  const double* cost = table.cost.data() + row * table.columns;
  const double base = so_far - state.row_price[row];
  for (std::size_t j = 0; j < table.columns; ++j) {
    const double length = base + cost[j] - state.column_price[j];
    if (length < search.distance[j] && !search.done[j]) {
      search.distance[j] = length;
      search.from_row[j] = row;
    }
  }
}

std::size_t nearest_open(const PathSearch& search) {
  std::size_t best = k_unassigned;
  double least = k_never;
  for (std::size_t j = 0; j < search.distance.size(); ++j) {
    if (!search.done[j] && search.distance[j] < least) {
      least = search.distance[j];
      best = j;
    }
  }
  return best;
}

/// Where the shortest path of a new row ends: a free column, or a row that takes nothing.
struct PathEnd {
  double length = k_never;
  std::size_t column = k_unassigned;
  std::size_t empty_row = k_unassigned;
};

void consider_empty(const CostTable& table, const Assignment& state, std::size_t row, double so_far,
                    PathEnd& end) {
  const double length = so_far + table.unassigned_cost[row] - state.row_price[row];
  if (length < end.length) end = {length, k_unassigned, row};
}

PathEnd shortest_path(const CostTable& table, const Assignment& state, std::size_t row,
                      PathSearch& search) {
  search.restart();
  PathEnd end;
  reach_from(table, state, row, 0.0, search);
  consider_empty(table, state, row, 0.0, end);
  while (true) {
    const std::size_t next = nearest_open(search);
    if (next == k_unassigned || search.distance[next] >= end.length) return end;
    if (state.row_of[next] == k_unassigned) return {search.distance[next], next, k_unassigned};
    search.done[next] = true;
    search.order.push_back(next);
    const std::size_t owner = state.row_of[next];
    reach_from(table, state, owner, search.distance[next], search);
    consider_empty(table, state, owner, search.distance[next], end);
  }
}

/// Prices that keep every reduced cost at zero or above once the path is taken.
void reprice(std::size_t row, const PathEnd& end, const PathSearch& search, Assignment& state) {
  state.row_price[row] += end.length;
  for (const std::size_t j : search.order) {
    const double gain = end.length - search.distance[j];
    if (!(gain > 0.0)) continue;
    state.row_price[state.row_of[j]] += gain;
    state.column_price[j] -= gain;
  }
}

void take_path(std::size_t row, const PathEnd& end, const PathSearch& search, Assignment& state) {
  std::size_t column = end.column;
  if (column == k_unassigned) {
    column = state.column_of[end.empty_row];
    state.column_of[end.empty_row] = k_unassigned;
    if (end.empty_row == row) return;
  }
  while (true) {
    const std::size_t taker = search.from_row[column];
    const std::size_t given_up = state.column_of[taker];
    state.column_of[taker] = column;
    state.row_of[column] = taker;
    if (taker == row) return;
    column = given_up;
  }
}

}  // namespace

Assignment assign(const CostTable& table) {
  Assignment state{.column_of = std::vector<std::size_t>(table.rows, k_unassigned),
                   .row_of = std::vector<std::size_t>(table.columns, k_unassigned),
                   .row_price = std::vector<double>(table.rows, 0.0),
                   .column_price = std::vector<double>(table.columns, 0.0)};
  PathSearch search(table.columns);
  for (std::size_t i = 0; i < table.rows; ++i) {
    const PathEnd end = shortest_path(table, state, i, search);
    reprice(i, end, search, state);
    take_path(i, end, search, state);
  }
  Sum total;
  for (std::size_t i = 0; i < table.rows; ++i) {
    const std::size_t j = state.column_of[i];
    total.add(j == k_unassigned ? table.unassigned_cost[i] : table.at(i, j));
  }
  state.cost = total.value();
  return state;
}

namespace {

/// Places of the search for another way: columns, rows, and "anything free" (the drain), through
/// which a column may fall free or a row that had nothing may come in.
class Detour {
 public:
  Detour(const CostTable& table, const Assignment& state, std::size_t row, double most)
      : table_(table), state_(state), row_(row), most_(most), search_(table.columns) {}

  double length() {
    const std::size_t target = state_.column_of[row_];
    leave(row_, 0.0);
    while (true) {
      const std::size_t next = nearest_open(search_);
      const double column_at = next == k_unassigned ? k_never : search_.distance[next];
      if (std::min(column_at, drain_is_done_ ? k_never : drain_) >= most_) return most_;
      if (!drain_is_done_ && drain_ <= column_at) {
        open_drain();
        continue;
      }
      if (next == target) return column_at;
      search_.done[next] = true;
      if (state_.row_of[next] == k_unassigned) {
        drain_ = std::min(drain_, column_at);
      } else {
        leave(state_.row_of[next], column_at);
      }
    }
  }

 private:
  void leave(std::size_t row, double so_far) {
    const std::size_t target = state_.column_of[row_];
    const double forbidden = search_.distance[target];
    const std::size_t forbidden_from = search_.from_row[target];
    reach_from(table_, state_, row, so_far, search_);
    if (row == row_) {
      search_.distance[target] = forbidden;
      search_.from_row[target] = forbidden_from;
    }
    drain_ = std::min(drain_, so_far + table_.unassigned_cost[row] - state_.row_price[row]);
  }

  void open_drain() {
    drain_is_done_ = true;
    for (std::size_t j = 0; j < table_.columns; ++j) {
      if (state_.row_of[j] == k_unassigned || search_.done[j]) continue;
      search_.distance[j] = std::min(search_.distance[j], drain_ - state_.column_price[j]);
    }
    for (std::size_t i = 0; i < table_.rows; ++i) {
      if (state_.column_of[i] == k_unassigned) reach_from(table_, state_, i, drain_, search_);
    }
  }

  const CostTable& table_;
  const Assignment& state_;
  std::size_t row_;
  double most_;
  PathSearch search_;
  double drain_ = k_never;
  bool drain_is_done_ = false;
};

}  // namespace

double rise_without(const CostTable& table, const Assignment& assignment, std::size_t row,
                    double most) {
  CHECK(row < table.rows, "a row of the table");
  if (assignment.column_of[row] == k_unassigned) return most;
  return std::max(0.0, Detour(table, assignment, row, most).length());
}

}  // namespace base
