// Times to places on the dish, and those to facets.
#include "naming/edge_sweep.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "base/elementary.h"
#include "naming/covers.h"
#include "naming/edge_search.h"
#include "naming/identify_cost.h"

namespace naming {
namespace {

using base::Problem;
using base::Result;
using base::Vec2;

constexpr std::size_t k_least_timed = 6;
constexpr double k_merged_light = 1.5;
/// A spot that lies on others goes out in steps, with the facets that light it one after the other.
/// What a step takes between frames is more than the first, and the own light is more than the
/// second; common practice, no source.
constexpr double k_still = 0.05;
constexpr double k_least_fall = 0.7;
/// Beyond, the times do not belong to the facets' places as they were given, and no name is sure.
constexpr double k_most_excess = 5.0;
constexpr const char* k_misfit_sentence =
    "The times at which the spots went out do not fit the facets' places. Film both crossings "
    "again, "
    "the edge moved evenly, and tell which way it went.";

Finding sweep_finding(const SweepWork& work, const base::CostTable& table,
                      const base::Assignment& assigned, std::size_t cell) {
  Finding finding{.cell = cell};
  const std::string& name = work.target.names[cell];
  const std::size_t j = assigned.column_of[cell];
  if (j == base::k_unassigned) {
    finding.doubt = Doubt::missing;
    finding.sentence = fmt::format(
        "No spot went out when the edge passed {}. Uncover it alone and take one more photo.",
        name);
    return finding;
  }
  finding.spot = work.timed[j];
  for (std::size_t s = 0; s < 2; ++s) {
    const Prediction by = prediction_of(work, s, j, cell);
    finding.distance2 += base::square(by.place_m - work.places_m[s][cell]) / by.variance_m2;
  }
  const double rise = base::rise_without(table, assigned, cell, work.settings.most_rise);
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

/// A stretch of frames in which a spot gets darker from one to the next.
struct Fall {
  std::size_t first = 0;
  double depth = 0.0;
};

/// The deepest, of equals the latest.
Fall deepest_fall(const std::vector<double>& light) {
  Fall deepest;
  Fall now;
  for (std::size_t k = 1; k < light.size(); ++k) {
    if (light[k - 1] - light[k] <= k_still) {
      now = {k, 0.0};
      continue;
    }
    now.depth = light[now.first] - light[k];
    if (now.depth >= deepest.depth) deepest = now;
  }
  return deepest;
}

std::optional<double> time_of_fall(const std::vector<double>& light,
                                   const std::vector<double>& times) {
  const Fall fall = deepest_fall(light);
  if (fall.depth < k_least_fall) return std::nullopt;
  const double half_way = light[fall.first] - 0.5 * fall.depth;
  std::size_t k = fall.first + 1;
  while (light[k] > half_way) ++k;
  const double share = (light[k - 1] - half_way) / (light[k - 1] - light[k]);
  return times[k - 1] + share * (times[k] - times[k - 1]);
}

}  // namespace

std::vector<std::optional<double>> times_dimmed(const std::vector<std::vector<double>>& left,
                                                const std::vector<double>& times) {
  std::vector<std::optional<double>> out;
  if (left.empty() || times.size() != left.size()) return out;
  std::vector<double> light(left.size());
  for (std::size_t spot = 0; spot < left.front().size(); ++spot) {
    for (std::size_t k = 0; k < left.size(); ++k) light[k] = left[k][spot];
    out.push_back(time_of_fall(light, times));
  }
  return out;
}

Result<Identification> identify_by_sweeps(const IdentifyTarget& target,
                                          const std::vector<BoardSpot>& spots,
                                          const std::vector<Sweep>& sweeps,
                                          const SweepSettings& settings) {
  const auto checked = check_sweeps(target, spots, sweeps);
  if (!checked) return checked.problems();
  SweepWork work{.target = target, .sweeps = sweeps, .settings = settings};
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
  for (std::size_t s = 0; s < 2; ++s) set_scale(work, s);
  std::vector<Vec2> places;
  for (const Cell& cell : target.cells) places.push_back(cell.place_m);
  const double pitch_m = lattice_of(places).pitch_m;
  const MotionSearch search = search_motions(work, pitch_m);
  const base::Assignment& assigned = search.assigned;
  const base::CostTable table = sweep_costs(work, assigned);
  Identification found{.cost = assigned.cost};
  std::vector<bool> is_taken(spots.size(), false);
  for (std::size_t c = 0; c < target.cells.size(); ++c) {
    found.findings.push_back(sweep_finding(work, table, assigned, c));
    Finding& finding = found.findings.back();
    if (finding.doubt == Doubt::missing) continue;
    is_taken[finding.spot] = true;
    if (search.excess_sigmas < k_most_excess) continue;
    finding.doubt = Doubt::ambiguous;
    finding.sentence = k_misfit_sentence;
  }
  for (std::size_t s = 0; s < spots.size(); ++s) {
    if (!is_taken[s]) found.false_spots.push_back({0, s});
  }
  return found;
}

}  // namespace naming
