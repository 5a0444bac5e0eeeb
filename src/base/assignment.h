// Who gets what, at the least cost together: the assignment problem for a rectangular table in
// which a row may also stay empty-handed.
#pragma once

#include <cstddef>
#include <limits>
#include <vector>

namespace base {

inline constexpr std::size_t k_unassigned = static_cast<std::size_t>(-1);

/// Costs of giving column j to row i, and of giving row i nothing. A pair that is out of the
/// question costs infinity; everything else is finite. A column that nobody takes costs nothing.
struct CostTable {
  std::size_t rows = 0;
  std::size_t columns = 0;
  std::vector<double> cost;             ///< rows * columns, row by row
  std::vector<double> unassigned_cost;  ///< one for each row

  CostTable(std::size_t row_count, std::size_t column_count)
      : rows(row_count),
        columns(column_count),
        cost(row_count * column_count, std::numeric_limits<double>::infinity()),
        unassigned_cost(row_count, 0.0) {}

  [[nodiscard]] double at(std::size_t i, std::size_t j) const { return cost[i * columns + j]; }
  double& at(std::size_t i, std::size_t j) { return cost[i * columns + j]; }
};

/// An optimal assignment with the prices that prove it: row_price + column_price <= cost
/// everywhere, equal on the pairs that were chosen, column prices <= 0 and zero on columns that
/// nobody took, row prices <= the cost of nothing and equal where a row got nothing.
struct Assignment {
  std::vector<std::size_t> column_of;  ///< of each row; k_unassigned: nothing
  std::vector<std::size_t> row_of;     ///< of each column; k_unassigned: nobody
  std::vector<double> row_price;
  std::vector<double> column_price;
  double cost = 0.0;  ///< of all rows, summed in their order
};

/// Least total cost, by the shortest augmenting path for one row after another; O(rows^2 columns)
/// at worst. Ties go to the lower column, so equal tables give equal answers.
/// Sources: Munkres, J. SIAM 5 (1957) 32; shortest augmenting paths as in Jonker & Volgenant,
/// Computing 38 (1987) 325. The private column of "nothing" is kept implicit: no path ever leaves
/// it again, because only its own row leads there.
Assignment assign(const CostTable& table);

/// By how much the least total cost would rise if row i might not have the column it got; at most
/// `most`, where the search stops (infinity: no other way at all). One shortest path on the
/// prices, from the row to the column it gave up. Rows that got nothing: `most`.
double rise_without(const CostTable& table, const Assignment& assignment, std::size_t row,
                    double most);

}  // namespace base
