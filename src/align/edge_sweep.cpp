// Times to places on the dish, and those to facets.
#include "align/edge_sweep.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "align/assignment.h"
#include "align/identify_cost.h"
#include "base/elementary.h"

namespace align {
namespace {

using base::Problem;
using base::Result;
using base::Vec2;
using Cubic = Eigen::Vector4d;

constexpr double k_circle = 6.283185307179586;
constexpr std::size_t k_least_timed = 6;
constexpr int k_sweep_passes = 8;
/// The first guess, by order alone, is off by a facet or so where spots are missing: times count
/// for less in the first passes, so that pairs are not given up before the fit has settled.
constexpr double k_first_doubt = 4.0;
constexpr double k_merged_light = 1.5;
/// How many facets at the near and the far end may be without a spot, start by start.
constexpr std::array<std::array<std::size_t, 2>, 3> k_starts_without{{{0, 0}, {0, 3}, {3, 0}}};

/// The edge's place as a cubic of time, time brought to about -1..1.
struct EdgeMotion {
  double middle = 0.0;
  double half = 1.0;
  Cubic terms = Cubic::Zero();

  [[nodiscard]] Cubic powers(double time) const {
    const double u = (time - middle) / half;
    return {1.0, u, u * u, u * u * u};
  }
  [[nodiscard]] double at(double time) const { return powers(time).dot(terms); }
};

void fit_motion(EdgeMotion& motion, const std::vector<std::pair<double, double>>& time_and_place) {
  Eigen::Matrix4d normal = 1e-9 * Eigen::Matrix4d::Identity();
  Cubic right = Cubic::Zero();
  for (const auto& pair : time_and_place) {
    const Cubic row = motion.powers(pair.first);
    normal += row * row.transpose();
    right += pair.second * row;
  }
  motion.terms = normal.ldlt().solve(right);
}

struct SweepWork {
  const IdentifyTarget& target;
  const std::vector<Sweep>& sweeps;
  SweepSettings settings;
  std::vector<std::size_t> timed;  ///< spots that both sweeps tell of
  std::vector<Vec2> directions;
  std::vector<EdgeMotion> motions;
};

double place_along(const SweepWork& work, std::size_t sweep, std::size_t cell) {
  return glm::dot(work.directions[sweep], work.target.cells[cell].place_m);
}

double time_of(const SweepWork& work, std::size_t sweep, std::size_t timed) {
  return *work.sweeps[sweep].out_at[work.timed[timed]];
}

/// First guess: the times in their order belong to the places in theirs, but for some at either end
/// whose spots may be missing.
void start_motion(SweepWork& work, std::size_t sweep, const std::array<std::size_t, 2>& without) {
  std::vector<double> times;
  std::vector<double> places;
  for (std::size_t j = 0; j < work.timed.size(); ++j) times.push_back(time_of(work, sweep, j));
  for (std::size_t c = 0; c < work.target.cells.size(); ++c) {
    places.push_back(place_along(work, sweep, c));
  }
  std::sort(times.begin(), times.end());
  std::sort(places.begin(), places.end());
  EdgeMotion motion{.middle = 0.5 * (times.front() + times.back()),
                    .half = std::max(0.5 * (times.back() - times.front()), 1e-12)};
  std::vector<std::pair<double, double>> pairs;
  const double left = static_cast<double>(places.size() - 1) - static_cast<double>(without[1]);
  const double first = std::min(static_cast<double>(without[0]), left);
  const double scale = (left - first) / static_cast<double>(times.size() - 1);
  for (std::size_t j = 0; j < times.size(); ++j) {
    const auto rank = static_cast<std::size_t>(first + static_cast<double>(j) * scale + 0.5);
    pairs.emplace_back(times[j], places[rank]);
  }
  fit_motion(motion, pairs);
  work.motions[sweep] = motion;
}

double sweep_distance2(const SweepWork& work, std::size_t cell, std::size_t timed) {
  double distance2 = 0.0;
  for (std::size_t s = 0; s < 2; ++s) {
    const double off = work.motions[s].at(time_of(work, s, timed)) - place_along(work, s, cell);
    distance2 += base::square(off / work.settings.timing_sigma_m);
  }
  return distance2;
}

CostTable sweep_costs(const SweepWork& work) {
  double radius2 = 0.0;
  for (const Cell& cell : work.target.cells) {
    radius2 = std::max(radius2, glm::dot(cell.place_m, cell.place_m));
  }
  const double sigma2 = base::square(work.settings.timing_sigma_m);
  const double density = work.settings.false_spots / (0.5 * k_circle * std::max(radius2, sigma2));
  const double constant = base::log_positive(k_circle * sigma2) + base::log_positive(density) -
                          base::log_positive(work.settings.detection);
  CostTable table(work.target.cells.size(), work.timed.size());
  for (std::size_t c = 0; c < table.rows; ++c) {
    table.unassigned_cost[c] = -base::log_positive(1.0 - work.settings.detection);
    for (std::size_t j = 0; j < table.columns; ++j) {
      table.at(c, j) = 0.5 * sweep_distance2(work, c, j) + constant;
    }
  }
  return table;
}

Assignment assign_and_refit(SweepWork& work) {
  const double sigma = work.settings.timing_sigma_m;
  for (int pass = 0; pass < k_sweep_passes; ++pass) {
    const double doubt = k_first_doubt * (1.0 - pass / (0.7 * k_sweep_passes));
    work.settings.timing_sigma_m = std::max(1.0, doubt) * sigma;
    const Assignment assigned = assign(sweep_costs(work));
    for (std::size_t s = 0; s < 2; ++s) {
      std::vector<std::pair<double, double>> pairs;
      for (std::size_t c = 0; c < assigned.column_of.size(); ++c) {
        const std::size_t j = assigned.column_of[c];
        if (j != k_unassigned) pairs.emplace_back(time_of(work, s, j), place_along(work, s, c));
      }
      if (pairs.size() >= k_least_timed) fit_motion(work.motions[s], pairs);
    }
  }
  work.settings.timing_sigma_m = sigma;
  return assign(sweep_costs(work));
}

/// The cheapest of several starts; the work keeps its motions.
Assignment best_of_starts(SweepWork& work) {
  Assignment best;
  std::vector<EdgeMotion> motions;
  for (const auto& one : k_starts_without) {
    for (const auto& other : k_starts_without) {
      start_motion(work, 0, one);
      start_motion(work, 1, other);
      const Assignment found = assign_and_refit(work);
      if (!motions.empty() && found.cost >= best.cost) continue;
      best = found;
      motions = work.motions;
    }
  }
  work.motions = motions;
  return best;
}

Finding sweep_finding(const SweepWork& work, const CostTable& table, const Assignment& assigned,
                      std::size_t cell) {
  Finding finding{.cell = cell};
  const std::string& name = work.target.names[cell];
  const std::size_t j = assigned.column_of[cell];
  if (j == k_unassigned) {
    finding.doubt = Doubt::missing;
    finding.sentence = fmt::format(
        "No spot went out when the edge passed {}. Uncover it alone and take one more photo.",
        name);
    return finding;
  }
  finding.spot = work.timed[j];
  finding.distance2 = sweep_distance2(work, cell, j);
  const double rise = rise_without(table, assigned, cell, work.settings.most_rise);
  finding.odds = base::exp_of(rise);
  if (rise < work.settings.least_rise || finding.distance2 > work.settings.most_distance2) {
    finding.doubt = rise < work.settings.least_rise ? Doubt::ambiguous : Doubt::surprising;
    finding.sentence = fmt::format(
        "The edge does not tell {} from its neighbours. Uncover it alone and take one more photo.",
        name);
  }
  return finding;
}

Result<base::Done> check_sweeps(const IdentifyTarget& target, const std::vector<BoardSpot>& spots,
                                const std::vector<Sweep>& sweeps) {
  if (sweeps.size() != 2) {
    return Problem{"sweeps", fmt::format("{} of them", sweeps.size()), "two crossings of the edge"};
  }
  for (const Sweep& sweep : sweeps) {
    if (sweep.out_at.size() == spots.size()) continue;
    return Problem{"sweeps", fmt::format("{} times", sweep.out_at.size()),
                   fmt::format("one for each of {} spots", spots.size())};
  }
  if (target.cells.size() < 2) return Problem{"facets", "fewer than two", "at least two"};
  return base::Done{};
}

}  // namespace

std::vector<std::optional<double>> times_out(const std::vector<std::vector<BoardSpot>>& frames,
                                             const std::vector<double>& times, double reach_m) {
  std::vector<std::optional<double>> out;
  if (frames.empty() || times.size() != frames.size()) return out;
  for (const BoardSpot& spot : frames.front()) {
    std::size_t last = 0;
    for (std::size_t k = 1; k < frames.size(); ++k) {
      const bool is_there =
          std::any_of(frames[k].begin(), frames[k].end(), [&](const BoardSpot& other) {
            return glm::distance(other.board_m, spot.board_m) <= reach_m;
          });
      if (is_there) last = k;
    }
    if (last + 1 == frames.size()) {
      out.emplace_back();
    } else {
      out.emplace_back(0.5 * (times[last] + times[last + 1]));
    }
  }
  return out;
}

std::vector<std::optional<double>> times_dimmed(const std::vector<std::vector<double>>& left,
                                                const std::vector<double>& times) {
  constexpr double k_half = 0.5;
  std::vector<std::optional<double>> out;
  if (left.empty() || times.size() != left.size()) return out;
  for (std::size_t spot = 0; spot < left.front().size(); ++spot) {
    std::size_t last = 0;
    for (std::size_t k = 0; k < left.size(); ++k) {
      if (left[k][spot] >= k_half) last = k;
    }
    out.emplace_back();
    if (last + 1 == left.size()) continue;
    const double before = std::max(left[last][spot], k_half);
    const double after = left[last + 1][spot];
    const double share = (before - k_half) / (before - after);
    out.back() = times[last] + share * (times[last + 1] - times[last]);
  }
  return out;
}

Result<Identification> identify_by_sweeps(const IdentifyTarget& target,
                                          const std::vector<BoardSpot>& spots,
                                          const std::vector<Sweep>& sweeps,
                                          const SweepSettings& settings) {
  const auto checked = check_sweeps(target, spots, sweeps);
  if (!checked) return checked.problems();
  SweepWork work{target, sweeps, settings, {}, {}, std::vector<EdgeMotion>(2)};
  std::vector<std::size_t> everything(target.cells.size());
  std::iota(everything.begin(), everything.end(), std::size_t{0});
  const LookColumns light = columns_of({everything, spots}, IdentifySettings{});
  for (std::size_t s = 0; s < spots.size(); ++s) {
    const bool is_timed = sweeps[0].out_at[s] && sweeps[1].out_at[s];
    if (is_timed && light.share_of[s] < k_merged_light) work.timed.push_back(s);
  }
  if (work.timed.size() < k_least_timed) {
    return Problem{"sweeps", fmt::format("{} spots that went out", work.timed.size()),
                   fmt::format("at least {}", k_least_timed)};
  }
  for (std::size_t s = 0; s < 2; ++s) {
    const base::SinCos way = base::sincos_turns(sweeps[s].direction_rad / k_circle);
    work.directions.emplace_back(way.cos, way.sin);
  }
  const Assignment assigned = best_of_starts(work);
  const CostTable table = sweep_costs(work);
  Identification found{.cost = assigned.cost};
  std::vector<bool> is_taken(spots.size(), false);
  for (std::size_t c = 0; c < target.cells.size(); ++c) {
    found.findings.push_back(sweep_finding(work, table, assigned, c));
    if (found.findings.back().doubt != Doubt::missing) is_taken[found.findings.back().spot] = true;
  }
  for (std::size_t s = 0; s < spots.size(); ++s) {
    if (!is_taken[s]) found.false_spots.push_back({0, s});
  }
  return found;
}

}  // namespace align
