// Costs of giving a spot to a cell.
#include "naming/identify_cost.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"

namespace naming {
namespace {

using base::Mat2;
using base::Vec2;

constexpr double k_turn = 6.283185307179586;
/// Between one facet's light and two facets'.
constexpr double k_least_merged_share = 1.5;
constexpr double k_most_copies = 4.0;
/// Parts of a merged spot from its middle, in diameters: two parts merge below 0.9 of a diameter
/// and lie half their distance from the middle. Common practice, no source.
constexpr double k_parts_in_diameters = 0.25;

double middle_of(std::vector<double> values) {
  if (values.empty()) return 0.0;
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

/// How far spots stray from a cell.
struct Spread {
  Mat2 covariance{0.0};
  double determinant = 0.0;
  double log_norm = 0.0;
};

Spread spread_at(const Cell& cell, double sigma_m) {
  Spread spread{.covariance = spread_of(cell, sigma_m)};
  spread.determinant = glm::determinant(spread.covariance);
  spread.log_norm = base::log_positive(k_turn * std::sqrt(spread.determinant));
  return spread;
}

Misfit misfit(const Cell& cell, const Spread& spread, const BoardSpot& spot) {
  const Mat2& s = spread.covariance;
  const Vec2 off = spot.board_m - cell.mark_m;
  const double distance2 =
      (s[1][1] * off.x * off.x - 2.0 * s[0][1] * off.x * off.y + s[0][0] * off.y * off.y) /
      spread.determinant;
  return {distance2, spread.log_norm};
}

}  // namespace

LookColumns columns_of(const BoardLook& look, const IdentifySettings& settings) {
  std::vector<double> fluxes;
  for (const BoardSpot& spot : look.spots) {
    if (spot.flux > 0.0 && !spot.is_merged) fluxes.push_back(spot.flux);
  }
  const double usual = middle_of(fluxes);
  LookColumns columns;
  for (std::size_t s = 0; s < look.spots.size(); ++s) {
    const BoardSpot& spot = look.spots[s];
    const double share = spot.flux > 0.0 && usual > 0.0 ? spot.flux / usual : 0.0;
    std::size_t copies = 1;
    if (settings.uses_flux && (spot.is_merged || share > k_least_merged_share)) {
      copies = static_cast<std::size_t>(std::clamp(std::floor(share + 0.5), 2.0, k_most_copies));
    }
    columns.share_of.push_back(share);
    columns.copies.push_back(copies);
    columns.spot_of.insert(columns.spot_of.end(), copies, s);
  }
  return columns;
}

Misfit misfit(const Cell& cell, const BoardSpot& spot, double parts_m) {
  return misfit(cell, spread_at(cell, std::hypot(spot.sigma_m, parts_m)), spot);
}

base::CostTable costs_of(const std::vector<Cell>& cells, const BoardLook& look,
                         const LookColumns& columns, const IdentifySettings& settings) {
  base::CostTable table(look.cells.size(), columns.spot_of.size());
  const double constant = base::log_positive(settings.false_spots / settings.board_area_m2) -
                          base::log_positive(settings.detection);
  const double nothing = -base::log_positive(1.0 - settings.detection);
  const double parts = k_parts_in_diameters * settings.spot_diameter_m;
  std::vector<double> sigmas;
  for (const std::size_t s : columns.spot_of) {
    sigmas.push_back(std::hypot(look.spots[s].sigma_m, columns.copies[s] > 1 ? parts : 0.0));
  }
  for (std::size_t i = 0; i < table.rows; ++i) {
    const Cell& cell = cells[look.cells[i]];
    table.unassigned_cost[i] = nothing;
    Spread spread;
    for (std::size_t j = 0; j < table.columns; ++j) {
      // Most spots are equally sure, and the spread is most of the work.
      if (j == 0 || sigmas[j] != sigmas[j - 1]) spread = spread_at(cell, sigmas[j]);
      const Misfit fit = misfit(cell, spread, look.spots[columns.spot_of[j]]);
      table.at(i, j) = 0.5 * fit.distance2 + fit.log_norm + constant;
    }
  }
  return table;
}

}  // namespace naming
