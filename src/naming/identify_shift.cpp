// The common shift of all spots, found before they are assigned: without it a board that stands
// a little off gives every spot to the neighbour.
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "align/causes.h"
#include "align/common.h"
#include "naming/identify_cost.h"

namespace naming {
namespace {

using base::Vec2;

constexpr double k_shift_step_m = 0.008;
constexpr double k_score_cap_m = 0.015;
constexpr std::size_t k_most_starts = 4;
constexpr int k_passes = 4;
constexpr int k_fit_steps = 12;
constexpr std::size_t k_least_pairs = 4;
constexpr std::size_t k_strange_count = 3;

/// Shift (p, q) and radial part of all cells, as seen from the sun.
struct ShiftFit {
  Vec2 shift_m{0.0, 0.0};
  double radial = 0.0;
  double cost = 0.0;
  std::size_t empty = 0;
  std::size_t strangers = 0;
};

struct ShiftPair {
  Vec2 place_m{0.0, 0.0};
  Vec2 residual_m{0.0, 0.0};  ///< (p, q)
};

std::vector<Cell> moved_cells(const IdentifyTarget& target, const ShiftFit& fit) {
  std::vector<Cell> cells = target.cells;
  for (Cell& cell : cells) {
    const Vec2 by = fit.shift_m + fit.radial * cell.place_m;
    cell.mark_m += align::board_from_sunward(target.dish_from_board, by);
  }
  return cells;
}

double nearest_distance(const std::vector<Cell>& cells, const BoardLook& look, const Vec2& place) {
  double least = k_score_cap_m * k_score_cap_m;
  for (const std::size_t c : look.cells) {
    const Vec2 off = cells[c].mark_m - place;
    least = std::min(least, glm::dot(off, off));
  }
  return std::sqrt(least);
}

/// Grid shifts on the board with their scores, the best first; equal ones by size of the shift.
std::vector<std::pair<double, Vec2>> scored_shifts(const IdentifyTarget& target,
                                                   const std::vector<BoardLook>& looks,
                                                   double range_m) {
  const int steps = static_cast<int>(range_m / k_shift_step_m);
  std::vector<std::pair<double, Vec2>> scored;
  for (int a = -steps; a <= steps; ++a) {
    for (int b = -steps; b <= steps; ++b) {
      const Vec2 shift{a * k_shift_step_m, b * k_shift_step_m};
      double score = 0.0;
      for (const BoardLook& look : looks) {
        for (const BoardSpot& spot : look.spots) {
          score += nearest_distance(target.cells, look, spot.board_m - shift);
        }
      }
      scored.emplace_back(score, shift);
    }
  }
  std::stable_sort(scored.begin(), scored.end(), [](const auto& one, const auto& other) {
    if (one.first != other.first) return one.first < other.first;
    return glm::dot(one.second, one.second) < glm::dot(other.second, other.second);
  });
  return scored;
}

/// Half the usual distance between neighbouring cells.
double half_cell(const std::vector<Cell>& cells) {
  std::vector<double> nearest;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    double least = 1e9;
    for (std::size_t j = 0; j < cells.size(); ++j) {
      if (j != i) least = std::min(least, glm::distance(cells[i].mark_m, cells[j].mark_m));
    }
    nearest.push_back(least);
  }
  std::sort(nearest.begin(), nearest.end());
  return 0.5 * nearest[nearest.size() / 2];
}

/// No shift at all, then the best of the grid that lie at least half a cell from each other.
std::vector<Vec2> starts_of(const IdentifyTarget& target, const std::vector<BoardLook>& looks,
                            double range_m, double apart_m) {
  std::vector<Vec2> starts;
  for (const auto& scored : scored_shifts(target, looks, range_m)) {
    if (starts.size() == k_most_starts) break;
    const bool is_new = std::all_of(starts.begin(), starts.end(), [&](const Vec2& start) {
      return glm::distance(start, scored.second) >= apart_m;
    });
    if (is_new) starts.push_back(scored.second);
  }
  return starts;
}

double shift_weight(double share, bool is_tukey) {
  if (!is_tukey) return share <= align::k_huber ? 1.0 : align::k_huber / share;
  const double u = share / align::k_tukey;
  return u < 1.0 ? (1.0 - u * u) * (1.0 - u * u) : 0.0;
}

/// Weighted least squares for shift and radial; nothing when the places do not tell them apart.
std::optional<ShiftFit> solve_shift(const std::vector<ShiftPair>& pairs,
                                    const std::vector<double>& weights) {
  double w = 0.0;
  double squares = 0.0;
  double radial = 0.0;
  Vec2 place{0.0, 0.0};
  Vec2 residual{0.0, 0.0};
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    w += weights[i];
    place += weights[i] * pairs[i].place_m;
    residual += weights[i] * pairs[i].residual_m;
  }
  if (!(w > 0.0)) return std::nullopt;
  place /= w;
  residual /= w;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    const Vec2 off = pairs[i].place_m - place;
    squares += weights[i] * glm::dot(off, off);
    radial += weights[i] * glm::dot(off, pairs[i].residual_m - residual);
  }
  if (!(squares > 0.0)) return std::nullopt;
  radial /= squares;
  return ShiftFit{.shift_m = residual - radial * place, .radial = radial};
}

std::optional<ShiftFit> robust_shift(const std::vector<ShiftPair>& pairs) {
  if (pairs.size() < k_least_pairs) return std::nullopt;
  std::vector<double> weights(pairs.size(), 1.0);
  std::optional<ShiftFit> fit = solve_shift(pairs, weights);
  for (int step = 0; fit && step < 2 * k_fit_steps; ++step) {
    std::vector<double> sizes;
    for (const ShiftPair& pair : pairs) {
      sizes.push_back(glm::length(pair.residual_m - fit->shift_m - fit->radial * pair.place_m));
    }
    std::vector<double> sorted = sizes;
    std::sort(sorted.begin(), sorted.end());
    const double scale = std::max(sorted[sorted.size() / 2] / align::k_rayleigh_median, 1e-9);
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      weights[i] = shift_weight(sizes[i] / scale, step >= k_fit_steps);
    }
    fit = solve_shift(pairs, weights);
  }
  return fit;
}

/// Assigns all looks with the cells where `fit` puts them; pairs and the cost come back.
std::vector<ShiftPair> assigned_pairs(const IdentifyTarget& target,
                                      const std::vector<BoardLook>& looks,
                                      const IdentifySettings& settings, ShiftFit& fit) {
  const std::vector<Cell> cells = moved_cells(target, fit);
  std::vector<ShiftPair> pairs;
  fit.cost = 0.0;
  fit.empty = fit.strangers = 0;
  for (const BoardLook& look : looks) {
    const LookColumns columns = columns_of(look, settings);
    const base::Assignment assigned = base::assign(costs_of(cells, look, columns, settings));
    fit.cost += assigned.cost;
    for (std::size_t i = 0; i < look.cells.size(); ++i) {
      const std::size_t j = assigned.column_of[i];
      if (j == base::k_unassigned) {
        ++fit.empty;
        continue;
      }
      const Cell& cell = cells[look.cells[i]];
      const Vec2 off = look.spots[columns.spot_of[j]].board_m - cell.mark_m;
      pairs.push_back({cell.place_m, align::sunward_from_board(target.dish_from_board, off)});
    }
    for (std::size_t j = 0; j < columns.spot_of.size(); ++j) {
      const bool is_first = j == 0 || columns.spot_of[j - 1] != columns.spot_of[j];
      fit.strangers += is_first && assigned.row_of[j] == base::k_unassigned ? 1 : 0;
    }
  }
  return pairs;
}

ShiftFit fit_from(const IdentifyTarget& target, const std::vector<BoardLook>& looks,
                  const IdentifySettings& settings, ShiftFit fit) {
  for (int pass = 0; pass < k_passes; ++pass) {
    const auto step = robust_shift(assigned_pairs(target, looks, settings, fit));
    if (!step) break;
    fit.shift_m += step->shift_m;
    fit.radial += step->radial;
  }
  assigned_pairs(target, looks, settings, fit);
  return fit;
}

void doubt_shift(const ShiftFit& best, const std::vector<ShiftFit>& fits, double apart_m,
                 const IdentifySettings& settings, CommonShift& common) {
  for (const ShiftFit& other : fits) {
    const bool is_elsewhere = glm::distance(other.shift_m, best.shift_m) > apart_m;
    if (is_elsewhere && other.cost < best.cost + settings.least_rise) {
      common.is_shifted_cell = true;
      common.sentence =
          "The whole pattern fits about as well when it is moved by one place. Cover one facet "
          "whose place you know, take one more photo, and see which spot goes out.";
    }
  }
  if (best.empty >= k_strange_count && best.strangers >= k_strange_count) {
    common.is_shifted_cell = true;
    common.sentence =
        "Several places are empty while several spots belong to nobody: the pattern may be moved, "
        "turned or mirrored. Check where the board stands and which way up it is.";
  }
}

}  // namespace

CommonShift fit_shift(const IdentifyTarget& target, const std::vector<BoardLook>& looks,
                      const IdentifySettings& settings, std::vector<Cell>& cells) {
  const double apart = half_cell(target.cells);
  std::vector<ShiftFit> fits;
  for (const Vec2& start : starts_of(target, looks, settings.shift_range_m, apart)) {
    const ShiftFit at{.shift_m = align::sunward_from_board(target.dish_from_board, start)};
    fits.push_back(fit_from(target, looks, settings, at));
  }
  const auto best = *std::min_element(
      fits.begin(), fits.end(),
      [](const ShiftFit& one, const ShiftFit& other) { return one.cost < other.cost; });
  cells = moved_cells(target, best);
  CommonShift common{.shift_m = best.shift_m, .radial = best.radial};
  doubt_shift(best, fits, apart, settings, common);
  return common;
}

}  // namespace naming
