// From orders of times to motions: pairs by their likelihood, then one by one, then nudged.
#include "naming/edge_search.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"
#include "base/units.h"

namespace naming {
namespace {

using base::Vec2;

constexpr std::size_t k_least_timed_pairs = 6;
/// The first guess, by order alone, is off by a facet or so where spots are missing: pairs count by
/// how well they fit, with times that count for less in the first passes.
constexpr int k_soft_passes = 8;
constexpr double k_first_doubt = 5.0;
constexpr double k_nudged_doubt = 2.5;
constexpr double k_most_soft2 = 60.0;  ///< beyond, nothing is left of a pair
constexpr double k_cheaper = 1e-6;
constexpr int k_most_climbs = 4;
constexpr int k_firm_passes = 6;
/// How many facets at the near and the far end may be without a spot, start by start.
constexpr std::array<std::array<std::size_t, 2>, 4> k_starts_without{
    {{0, 0}, {0, 3}, {3, 0}, {3, 3}}};
constexpr std::size_t k_starts = k_starts_without.size() * k_starts_without.size();
/// Excess beyond which every pair of starts is followed to its end.
constexpr double k_search_on = 3.0;

double time_of(const SweepWork& work, std::size_t sweep, std::size_t timed) {
  return *work.sweeps[sweep].out_at[work.timed[timed]];
}

/// First guess: the times in their order belong to the places in theirs, but for some at either end
/// whose spots may be missing.
EdgeMotion start_motion(const SweepWork& work, std::size_t sweep,
                        const std::array<std::size_t, 2>& without) {
  std::vector<double> times;
  for (std::size_t j = 0; j < work.timed.size(); ++j) times.push_back(time_of(work, sweep, j));
  std::vector<double> places = work.places_m[sweep];
  std::sort(times.begin(), times.end());
  std::sort(places.begin(), places.end());
  std::vector<TimedPlace> pairs;
  const double left = static_cast<double>(places.size() - 1) - static_cast<double>(without[1]);
  const double first = std::min(static_cast<double>(without[0]), left);
  const double scale = (left - first) / static_cast<double>(times.size() - 1);
  for (std::size_t j = 0; j < times.size(); ++j) {
    const auto rank = static_cast<std::size_t>(std::lround(first + static_cast<double>(j) * scale));
    pairs.push_back({times[j], places[rank]});
  }
  return fit_motion(work.scales[sweep], pairs);
}

/// Pairs count by how likely they are, among the cells and nobody's; doubt times the timing sigma.
void refit_softly(SweepWork& work, double doubt) {
  const double sigma2 = base::square(doubt * work.settings.timing_sigma_m);
  const std::size_t cells = work.target.cells.size();
  std::array<std::vector<TimedPlace>, 2> pairs;
  std::vector<double> weight(cells);
  for (std::size_t j = 0; j < work.timed.size(); ++j) {
    const std::array<double, 2> time{time_of(work, 0, j), time_of(work, 1, j)};
    const std::array<double, 2> at{work.motions[0].at(time[0]), work.motions[1].at(time[1])};
    double sum = base::exp_of(-0.5 * work.settings.most_distance2);
    for (std::size_t c = 0; c < cells; ++c) {
      const double off2 =
          base::square(at[0] - work.places_m[0][c]) + base::square(at[1] - work.places_m[1][c]);
      weight[c] = off2 < k_most_soft2 * sigma2 ? base::exp_of(-0.5 * off2 / sigma2) : 0.0;
      sum += weight[c];
    }
    for (std::size_t s = 0; s < 2; ++s) {
      // One pair stands for all: the same normal equations.
      double whole = 0.0;
      double place = 0.0;
      for (std::size_t c = 0; c < cells; ++c) {
        whole += weight[c];
        place += weight[c] * work.places_m[s][c];
      }
      if (whole > 0.0) pairs[s].push_back({time[s], place / whole, whole / sum});
    }
  }
  for (std::size_t s = 0; s < 2; ++s) work.motions[s] = fit_motion(work.scales[s], pairs[s]);
}

void refit(SweepWork& work, const base::Assignment& assigned) {
  for (std::size_t s = 0; s < 2; ++s) {
    std::vector<TimedPlace> pairs;
    for (std::size_t j = 0; j < work.timed.size(); ++j) {
      const std::size_t c = assigned.row_of[j];
      if (c != base::k_unassigned) pairs.push_back({time_of(work, s, j), work.places_m[s][c]});
    }
    if (pairs.size() >= k_least_timed_pairs) work.motions[s] = fit_motion(work.scales[s], pairs);
  }
}

base::Assignment settle(SweepWork& work, double first_doubt) {
  for (int pass = 0; pass < k_soft_passes; ++pass) {
    const double share = static_cast<double>(pass) / (k_soft_passes - 1);
    refit_softly(work, first_doubt + share * (1.0 - first_doubt));
  }
  base::Assignment assigned = base::assign(sweep_costs(work, {}));
  for (int pass = 0; pass < k_firm_passes; ++pass) {
    refit(work, assigned);
    base::Assignment next = base::assign(sweep_costs(work, assigned));
    const bool is_same = next.column_of == assigned.column_of;
    assigned = std::move(next);
    if (is_same) break;
  }
  return assigned;
}

/// What was found cheapest so far, and where it came from.
struct Settled {
  base::Assignment assigned;
  std::vector<EdgeMotion> motions;
};

bool keep_if_cheaper(SweepWork& work, double first_doubt, Settled& best) {
  base::Assignment found = settle(work, first_doubt);
  if (!best.motions.empty() && !(found.cost < best.assigned.cost - k_cheaper)) return false;
  best = {std::move(found), work.motions};
  return true;
}

/// What is added to the two motions' terms.
using MotionChange = std::array<Eigen::Vector4d, 2>;

/// Changes by which a motion that has locked onto the neighbours' places may come free: both sweeps
/// shifted together in eight directions; or one of them at its beginning or end, evenly or more and
/// more, or in the middle.
std::vector<MotionChange> nudges(double pitch_m) {
  std::vector<MotionChange> list;
  for (int x = -1; x <= 1; ++x) {
    for (int y = -1; y <= 1; ++y) {
      if (x == 0 && y == 0) continue;
      const double size = pitch_m * (x != 0 && y != 0 ? 0.7 : 1.0);
      list.push_back({x * size * Eigen::Vector4d::UnitX(), y * size * Eigen::Vector4d::UnitX()});
    }
  }
  const std::array<Eigen::Vector4d, 5> shapes{{{0.5, 0.5, 0.0, 0.0},
                                               {0.5, -0.5, 0.0, 0.0},
                                               {0.125, 0.375, 0.375, 0.125},
                                               {0.125, -0.375, 0.375, -0.125},
                                               {1.0, 0.0, -1.0, 0.0}}};
  for (const Eigen::Vector4d& shape : shapes) {
    for (const double size : {-pitch_m, pitch_m}) {
      list.push_back({size * shape, Eigen::Vector4d::Zero()});
      list.push_back({Eigen::Vector4d::Zero(), size * shape});
    }
  }
  return list;
}

void climb(SweepWork& work, const std::vector<MotionChange>& changes, Settled& best) {
  bool is_better = true;
  for (int round = 0; round < k_most_climbs && is_better; ++round) {
    is_better = false;
    for (const MotionChange& by : changes) {
      work.motions = best.motions;
      for (std::size_t s = 0; s < 2; ++s) work.motions[s].terms += by[s];
      is_better = keep_if_cheaper(work, k_nudged_doubt, best) || is_better;
    }
  }
}

double nothing_cost(const SweepSettings& settings) {
  return -base::log_positive(1.0 - settings.detection);
}

/// ln(2 pi density / P_D), to which ln(sigma^2) comes.
double pair_constant(const SweepWork& work) {
  double radius2 = base::square(work.settings.timing_sigma_m);
  for (const Cell& cell : work.target.cells) {
    radius2 = std::max(radius2, glm::dot(cell.place_m, cell.place_m));
  }
  const double density = work.settings.false_spots / (base::k_pi * radius2);
  return base::log_positive(2.0 * base::k_pi * density / work.settings.detection);
}

/// A right answer gives every spot a cell and costs half a chi-squared of 2 n degrees of freedom,
/// of mean n and variance n, and about half a unit for each of the eight terms that were fitted.
double excess_of(const SweepWork& work, const Settled& found) {
  const auto n = static_cast<double>(std::min(work.timed.size(), work.target.cells.size()));
  const double empty = static_cast<double>(work.target.cells.size()) - n;
  const double norm = pair_constant(work) + 2.0 * base::log_positive(work.settings.timing_sigma_m);
  const double expected = n * (norm + 1.0) + empty * nothing_cost(work.settings) + 4.0;
  return (found.assigned.cost - expected) / std::sqrt(n);
}

}  // namespace

void set_scale(SweepWork& work, std::size_t sweep) {
  const base::SinCos way =
      base::sincos_turns(work.sweeps[sweep].direction_rad / (2.0 * base::k_pi));
  std::vector<double> places;
  for (const Cell& cell : work.target.cells) {
    places.push_back(glm::dot(Vec2(way.cos, way.sin), cell.place_m));
  }
  double first = time_of(work, sweep, 0);
  double last = first;
  for (std::size_t j = 1; j < work.timed.size(); ++j) {
    first = std::min(first, time_of(work, sweep, j));
    last = std::max(last, time_of(work, sweep, j));
  }
  const auto [least, most] = std::minmax_element(places.begin(), places.end());
  work.scales.push_back({.middle = 0.5 * (first + last),
                         .half = std::max(0.5 * (last - first), 1e-12),
                         .half_way_m = std::max(0.5 * (*most - *least), 1e-6),
                         .sigma_m = work.settings.timing_sigma_m});
  work.places_m.push_back(std::move(places));
}

Prediction prediction_of(const SweepWork& work, std::size_t s, std::size_t timed,
                         std::size_t own_cell) {
  const double time = time_of(work, s, timed);
  const double at = work.motions[s].at(time);
  const double share = work.motions[s].leverage(time);
  const double sigma2 = base::square(work.settings.timing_sigma_m);
  if (own_cell == base::k_unassigned) return {at, sigma2 * (1.0 + share)};
  const double rest = std::max(1.0 - share, 1e-3);
  return {at - share / rest * (work.places_m[s][own_cell] - at), sigma2 / rest};
}

base::CostTable sweep_costs(const SweepWork& work, const base::Assignment& now) {
  const double constant = pair_constant(work);
  base::CostTable table(work.target.cells.size(), work.timed.size());
  for (std::size_t j = 0; j < table.columns; ++j) {
    const std::size_t own = now.row_of.empty() ? base::k_unassigned : now.row_of[j];
    const std::array<Prediction, 2> by{prediction_of(work, 0, j, own),
                                       prediction_of(work, 1, j, own)};
    const double norm = 0.5 * base::log_positive(by[0].variance_m2 * by[1].variance_m2) + constant;
    for (std::size_t c = 0; c < table.rows; ++c) {
      double distance2 = 0.0;
      for (std::size_t s = 0; s < 2; ++s) {
        distance2 += base::square(by[s].place_m - work.places_m[s][c]) / by[s].variance_m2;
      }
      table.at(c, j) = 0.5 * distance2 + norm;
    }
  }
  for (double& nothing : table.unassigned_cost) nothing = nothing_cost(work.settings);
  return table;
}

MotionSearch search_motions(SweepWork& work, double pitch_m) {
  const auto changes = nudges(pitch_m);
  Settled best;
  for (const auto& without : k_starts_without) {
    work.motions = {start_motion(work, 0, without), start_motion(work, 1, without)};
    keep_if_cheaper(work, k_first_doubt, best);
  }
  climb(work, changes, best);
  for (std::size_t start = 0; excess_of(work, best) > k_search_on && start < k_starts; ++start) {
    const auto& one = k_starts_without[start / k_starts_without.size()];
    const auto& other = k_starts_without[start % k_starts_without.size()];
    Settled again;
    work.motions = {start_motion(work, 0, one), start_motion(work, 1, other)};
    keep_if_cheaper(work, k_first_doubt, again);
    climb(work, changes, again);
    if (again.assigned.cost < best.assigned.cost - k_cheaper) best = std::move(again);
  }
  work.motions = best.motions;
  const double excess = excess_of(work, best);
  return {std::move(best.assigned), excess};
}

}  // namespace naming
