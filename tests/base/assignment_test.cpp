// The assignment, against every permutation, against another method, and by its own prices.
#include "base/assignment.h"

#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "support/outside.h"
#include "support/seeded.h"

namespace {

using base::Assignment;
using base::CostTable;
using base::k_unassigned;

CostTable random_table(support::Seeded& random, std::size_t rows, std::size_t columns) {
  CostTable table(rows, columns);
  for (double& cost : table.cost) {
    cost = random(0.0, 1.0) < 0.1 ? std::numeric_limits<double>::infinity() : random(-5.0, 5.0);
  }
  for (double& cost : table.unassigned_cost) cost = random(0.0, 6.0);
  return table;
}

/// Least cost by trying every way, row by row.
double by_trying(const CostTable& table, std::size_t row, std::vector<bool>& taken,
                 std::size_t forbidden_row = k_unassigned,
                 std::size_t forbidden_column = k_unassigned) {
  if (row == table.rows) return 0.0;
  double least = table.unassigned_cost[row] +
                 by_trying(table, row + 1, taken, forbidden_row, forbidden_column);
  for (std::size_t j = 0; j < table.columns; ++j) {
    if (taken[j] || (row == forbidden_row && j == forbidden_column)) continue;
    if (!std::isfinite(table.at(row, j))) continue;
    taken[j] = true;
    least = std::min(least, table.at(row, j) +
                                by_trying(table, row + 1, taken, forbidden_row, forbidden_column));
    taken[j] = false;
  }
  return least;
}

double by_trying(const CostTable& table) {
  std::vector<bool> taken(table.columns, false);
  return by_trying(table, 0, taken);
}

/// Least cost by auction (Bertsekas): rows bid for columns until nobody wants to change. Whole
/// costs and a bid step below 1 / (rows + columns) make it exact. Nothing is a column of its own.
double by_auction(const CostTable& table) {
  const std::size_t rows = table.rows;
  const std::size_t columns = table.columns + rows;
  const auto cost = [&](std::size_t i, std::size_t j) {
    if (j < table.columns) return table.at(i, j);
    return j - table.columns == i ? table.unassigned_cost[i] : 1e9;
  };
  // Rows that want nothing in particular take what is left, so that all columns are asked for.
  std::vector<double> price(columns, 0.0);
  std::vector<std::size_t> owner(columns, k_unassigned);
  std::vector<std::size_t> has(columns, k_unassigned);
  const double step = 1.0 / static_cast<double>(2 * columns + 1);
  std::vector<std::size_t> waiting;
  for (std::size_t i = 0; i < columns; ++i) waiting.push_back(i);
  while (!waiting.empty()) {
    const std::size_t i = waiting.back();
    waiting.pop_back();
    double best = 1e300;
    double second = 1e300;
    std::size_t wanted = 0;
    for (std::size_t j = 0; j < columns; ++j) {
      const double value = (i < rows ? cost(i, j) : 0.0) + price[j];
      if (value < best) {
        second = best;
        best = value;
        wanted = j;
      } else {
        second = std::min(second, value);
      }
    }
    price[wanted] += (second < 1e299 ? second - best : 0.0) + step;
    if (owner[wanted] != k_unassigned) waiting.push_back(owner[wanted]);
    owner[wanted] = i;
    has[i] = wanted;
  }
  double total = 0.0;
  for (std::size_t i = 0; i < rows; ++i) total += cost(i, has[i]);
  return total;
}

/// Prices prove that nothing is cheaper: every reduced cost is at least zero, zero where chosen.
void check_prices(const CostTable& table, const Assignment& found) {
  double dual = 0.0;
  for (std::size_t i = 0; i < table.rows; ++i) {
    dual += found.row_price[i];
    REQUIRE(found.row_price[i] <= table.unassigned_cost[i] + 1e-9);
    for (std::size_t j = 0; j < table.columns; ++j) {
      REQUIRE(table.at(i, j) - found.row_price[i] - found.column_price[j] >= -1e-9);
    }
  }
  for (std::size_t j = 0; j < table.columns; ++j) {
    dual += found.column_price[j];
    REQUIRE(found.column_price[j] <= 0.0);
    if (found.row_of[j] == k_unassigned) REQUIRE(found.column_price[j] == 0.0);
  }
  CHECK(dual == doctest::Approx(found.cost).epsilon(1e-9));
}

}  // namespace

TEST_CASE("assignment: the least of all ways, tried one by one") {
  support::Seeded random(7);
  for (int trial = 0; trial < 300; ++trial) {
    const auto rows = static_cast<std::size_t>(1 + random.pick(6));
    const auto columns = static_cast<std::size_t>(random.pick(7));
    const CostTable table = random_table(random, rows, columns);
    const Assignment found = base::assign(table);
    REQUIRE(found.cost == doctest::Approx(by_trying(table)).epsilon(1e-12));
    check_prices(table, found);
    for (std::size_t i = 0; i < rows; ++i) {
      const std::size_t j = found.column_of[i];
      if (j != k_unassigned) REQUIRE(found.row_of[j] == i);
    }
  }
}

TEST_CASE("assignment: the rise without a pair is that of solving anew") {
  support::Seeded random(8);
  for (int trial = 0; trial < 300; ++trial) {
    const auto rows = static_cast<std::size_t>(1 + random.pick(6));
    const auto columns = static_cast<std::size_t>(1 + random.pick(6));
    const CostTable table = random_table(random, rows, columns);
    const Assignment found = base::assign(table);
    for (std::size_t i = 0; i < rows; ++i) {
      if (found.column_of[i] == k_unassigned) continue;
      std::vector<bool> taken(columns, false);
      const double anew = by_trying(table, 0, taken, i, found.column_of[i]) - found.cost;
      const double rise = base::rise_without(table, found, i, 1e6);
      REQUIRE(rise == doctest::Approx(anew).epsilon(1e-9).scale(1.0));
      CHECK(base::rise_without(table, found, i, 0.5) == std::min(rise, 0.5));
    }
  }
}

TEST_CASE("assignment: as an auction finds it, on larger tables") {
  support::Seeded random(9);
  for (int trial = 0; trial < 12; ++trial) {
    const auto rows = static_cast<std::size_t>(5 + random.pick(25));
    const auto columns = static_cast<std::size_t>(5 + random.pick(25));
    CostTable table(rows, columns);
    for (double& cost : table.cost) cost = random.pick(100);
    for (double& cost : table.unassigned_cost) cost = random.pick(40);
    const Assignment found = base::assign(table);
    CHECK(found.cost == by_auction(table));
    check_prices(table, found);
  }
}

TEST_CASE("assignment: ties go to the lower column, always") {
  const CostTable table(3, 5);
  CostTable equal = table;
  std::fill(equal.cost.begin(), equal.cost.end(), -1.0);
  const Assignment found = base::assign(equal);
  CHECK(found.column_of == std::vector<std::size_t>{0, 1, 2});
  CHECK(base::assign(equal).column_of == found.column_of);
}

TEST_CASE("assignment: nothing to give, nobody to give to") {
  CHECK(base::assign(CostTable(0, 4)).cost == 0.0);
  CostTable table(2, 0);
  table.unassigned_cost = {1.0, 2.0};
  CHECK(base::assign(table).cost == 3.0);
}

// Costs (7 i^2 + 13 j^2 + 5 i j) mod 101; nothing costs as given, through a private column a row.
TEST_CASE("assignment: as a general-purpose library finds it") {
  struct Row {
    std::size_t rows, columns;
    double nothing, least;
    std::ptrdiff_t empty_handed;
  };
  const Row tables[] = {{12, 12, 1e6, 107.0, 0},
                        {20, 30, 1e6, 71.0, 0},
                        {40, 25, 60.0, 936.0, 15},
                        {30, 30, 20.0, 137.0, 2}};
  for (const Row& row : tables) {
    CostTable table(row.rows, row.columns);
    table.unassigned_cost.assign(row.rows, row.nothing);
    for (std::size_t i = 0; i < row.rows; ++i) {
      for (std::size_t j = 0; j < row.columns; ++j) {
        table.at(i, j) = static_cast<double>((7 * i * i + 13 * j * j + 5 * i * j) % 101);
      }
    }
    const Assignment found = base::assign(table);
    support::check_outside(
        {.what = fmt::format("least cost of {} x {} pairs", row.rows, row.columns),
         .source = "SciPy 1.10, optimize.linear_sum_assignment",
         .outside = row.least,
         .ours = found.cost,
         .tolerance = 0.0,
         .why = "whole numbers",
         .pin = row.least});
    CHECK(std::count(found.column_of.begin(), found.column_of.end(), k_unassigned) ==
          row.empty_handed);
  }
}

TEST_CASE("assignment: the rearrangement inequality") {
  // The least sum of products pairs the largest with the smallest: products (i+1)(j+1), 1*3 + 2*2 +
  // 3*1 = 10 on the anti-diagonal, and only there.
  CostTable table(3, 3);
  for (std::size_t i = 0; i < 3; ++i) {
    table.unassigned_cost[i] = 100.0;
    for (std::size_t j = 0; j < 3; ++j) table.at(i, j) = static_cast<double>((i + 1) * (j + 1));
  }
  const Assignment found = base::assign(table);
  support::check_outside({.what = "least sum of products",
                          .source = "Hardy, Littlewood & Polya, Inequalities (1934), theorem 368",
                          .outside = 10.0,
                          .ours = found.cost,
                          .tolerance = 0.0,
                          .why = "whole numbers",
                          .pin = 10.0});
  CHECK(found.column_of == std::vector<std::size_t>{2, 1, 0});
}
