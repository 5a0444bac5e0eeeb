// Expected marks with their derivatives.
#include "naming/cells.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "align/facet_setup.h"
#include "align/solve.h"
#include "naming/tilt_array.h"

namespace naming {
namespace {

using base::Mat2;
using base::Mat3;
using base::Result;
using base::Vec2;

constexpr double k_cell_tilt_rad = 1e-5;

/// A pose tilted by a small angle about a direction across its normal.
adjusters::FacePose tilted(const adjusters::FacePose& pose, const base::Vec3& about, double rad) {
  return {pose.centre, base::unit(pose.normal + rad * glm::cross(about, pose.normal))};
}

Result<Cell> cell_of(const dish::Dish& dish, const align::Sighting& sighting,
                     const FacetPrior& prior) {
  const dish::Facet& facet = dish.facets[prior.facet];
  const auto setup = align::set_up(dish, facet);
  if (!setup) return setup.problems();
  const auto heights = setup.value().heights_at(prior.displacement_m);
  const adjusters::FacePose pose = align::pose_at(setup.value(), heights, align::Pivot::mount);
  const auto mark = align::expected_mark(dish, facet, pose, sighting);
  if (!mark) return mark.problems();
  Cell cell{.facet = prior.facet,
            .mark_m = mark.value().board_m,
            .sigma_rad = prior.sigma_rad,
            .place_m = {pose.centre.x, pose.centre.y},
            .brightness =
                glm::dot(align::direction_to_source(sighting.source, pose.centre), pose.normal)};
  const Mat3 frame = base::frame_of_normal(pose.normal, facet.clocking_rad);
  for (int axis = 0; axis < 2; ++axis) {
    const auto plus =
        align::expected_mark(dish, facet, tilted(pose, frame[axis], k_cell_tilt_rad), sighting);
    const auto minus =
        align::expected_mark(dish, facet, tilted(pose, frame[axis], -k_cell_tilt_rad), sighting);
    if (!plus || !minus) return plus ? minus.problems() : plus.problems();
    cell.mark_per_tilt[axis] =
        (plus.value().board_m - minus.value().board_m) / (2.0 * k_cell_tilt_rad);
  }
  return cell;
}

}  // namespace

Result<std::vector<Cell>> cells_of(const dish::Dish& dish, const align::Sighting& sighting,
                                   const std::vector<FacetPrior>& priors) {
  std::vector<Cell> cells;
  base::Problems problems;
  for (const FacetPrior& prior : priors) {
    auto cell = cell_of(dish, sighting, prior);
    if (cell) {
      cells.push_back(cell.value());
    } else {
      base::append(problems, cell.problems());
    }
  }
  if (!problems.empty()) return problems;
  return cells;
}

std::vector<FacetPrior> priors_of(const dish::Dish& dish, double start_rad) {
  std::map<dish::FacetId, bool> worked_on;
  for (const dish::Round& round : dish.rounds) {
    if (round.turned.empty()) continue;
    for (const dish::Spot& spot : round.spots) worked_on[spot.facet] = true;
  }
  const std::vector<bool> spread = stand_spread(dish);
  std::vector<FacetPrior> priors;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    const bool is_turned = worked_on.count(dish.facets[i].id) > 0;
    priors.push_back({i, is_turned ? std::min(start_rad, k_turned_tilt_rad) : start_rad, {}});
    if (spread[i]) priors.back().displacement_m = dish.facets[i].displacement_m;
  }
  return priors;
}

Mat2 spread_of(const Cell& cell, double spot_sigma_m) {
  const Mat2& j = cell.mark_per_tilt;
  const double tilt = cell.sigma_rad * cell.sigma_rad;
  const double spot = spot_sigma_m * spot_sigma_m;
  return tilt * (j * glm::transpose(j)) + Mat2(spot);
}

double most_shift_per_tilt(const Cell& cell) {
  const Mat2 square = cell.mark_per_tilt * glm::transpose(cell.mark_per_tilt);
  const double half = 0.5 * (square[0][0] + square[1][1]);
  const double apart = std::hypot(0.5 * (square[0][0] - square[1][1]), square[0][1]);
  return std::sqrt(half + apart);
}

}  // namespace naming
