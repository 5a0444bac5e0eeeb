// Rows and columns.
#include "dish/recipes_lattice.h"

#include <fmt/format.h>

#include "dish/recipes.h"
#include "dish/recipes_common.h"

namespace dish {
namespace {

using base::Vec2;
using ranges::Quantity;

base::Problems problems_of(const LatticeLayout& layout, double focal_length_m) {
  base::Problems problems;
  judge(problems, Quantity::column_count, layout.columns);
  judge(problems, Quantity::row_count, layout.rows);
  judge(problems, Quantity::layout_pitch, layout.column_pitch_m);
  judge(problems, Quantity::layout_pitch, layout.row_pitch_m);
  judge(problems, Quantity::layout_radius, layout.free_within_m);
  if (layout.free_beyond_m) judge(problems, Quantity::layout_radius, *layout.free_beyond_m);
  judge_frame(problems, layout.frame, focal_length_m);
  // Counted before any is made, so that a mistyped number is told at once.
  const auto most = static_cast<long long>(k_most_facets);
  if (problems.empty() && static_cast<long long>(layout.columns) * layout.rows > most)
    problems.push_back({"layout",
                        fmt::format("{} columns and {} rows", layout.columns, layout.rows),
                        fmt::format("at most {} facets", k_most_facets)});
  return problems;
}

bool is_left_out(const LatticeLayout& layout, const Vec2& xy) {
  const double radius = glm::length(xy);
  return radius < layout.free_within_m || (layout.free_beyond_m && radius > *layout.free_beyond_m);
}

}  // namespace

base::Result<std::vector<Facet>> lay_lattice(const LatticeLayout& layout, double focal_length_m) {
  base::Problems problems = problems_of(layout, focal_length_m);
  if (!problems.empty()) return problems;
  std::vector<Facet> facets;
  for (int row = 0; row < layout.rows; ++row) {
    for (int column = 0; column < layout.columns; ++column) {
      const Vec2 xy{layout.column_pitch_m * (column - 0.5 * (layout.columns - 1)),
                    layout.row_pitch_m * (0.5 * (layout.rows - 1) - row)};
      if (is_left_out(layout, xy)) continue;
      const auto centre = place_on(layout.frame, focal_length_m, xy);
      if (!centre) return centre.problems();
      facets.push_back({.id = {fmt::format("R{}C{}", row + 1, column + 1)},
                        .type = layout.type,
                        .mount = layout.mount,
                        .centre_m = centre.value()});
    }
  }
  return counted(std::move(facets));
}

}  // namespace dish
