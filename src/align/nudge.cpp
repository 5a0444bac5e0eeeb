// Chooses and reads; nudge_log.cpp keeps its place in the log.
#include "align/nudge.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/check.h"

namespace align {
namespace {

using base::Result;
using base::Vec2;

constexpr std::size_t k_most_compared = 200;

/// Facets on the mount that most have, by their distance from the axis.
std::vector<std::size_t> typical_facets(const dish::Dish& dish) {
  std::map<dish::MountName, std::vector<std::size_t>> by_mount;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    if (set_up(dish, dish.facets[i])) by_mount[dish.facets[i].mount].push_back(i);
  }
  std::vector<std::size_t> most;
  for (const auto& entry : by_mount) {
    if (entry.second.size() > most.size()) most = entry.second;
  }
  const auto radius = [&](std::size_t i) {
    const base::Vec3& centre = dish.facets[i].centre_m;
    return glm::length(Vec2(centre.x, centre.y));
  };
  std::stable_sort(most.begin(), most.end(),
                   [&](std::size_t a, std::size_t b) { return radius(a) < radius(b); });
  return most;
}

FacetHistory history_of(const dish::Dish& dish, std::size_t facet,
                        const std::array<Vec2, k_nudge_looks>& seen_m, double sigma_m,
                        const Response& nominal) {
  FacetHistory history{.facet = facet};
  for (std::size_t i = 0; i < k_nudge_looks; ++i) {
    history.looks.push_back({.round = i, .seen_m = seen_m[i], .sigma_m = sigma_m});
    if (i == 0) continue;
    Move move{.nominal = nominal, .half_way_m = dish.facets[facet].displacement_m};
    move.done[i - 1] = move.told[i - 1] = k_nudge_turns;
    history.moves.push_back(move);
  }
  return history;
}

void say(NudgeVerdict& verdict) {
  const LabelVerdict& labels = verdict.labels;
  if (!labels.sentence.empty()) {
    verdict.sentence = labels.sentence;
  } else if (labels.best == 0 && !labels.share.empty() && labels.share[0] > k_act) {
    verdict.sentence = "Hand, numbers, thread and side are as the file says.";
  } else {
    verdict.sentence =
        "These looks do not settle it: read the spots more finely, or turn each screw a whole "
        "turn.";
  }
}

}  // namespace

std::vector<std::size_t> nudge_facets(const dish::Dish& dish) {
  std::vector<std::size_t> facets = typical_facets(dish);
  if (facets.size() < 3) return facets;
  const std::size_t quarter = facets.size() / 4;
  std::vector<std::size_t> middle(facets.begin() + static_cast<std::ptrdiff_t>(quarter),
                                  facets.end() - static_cast<std::ptrdiff_t>(quarter));
  std::sort(middle.begin(), middle.end());
  std::vector<std::size_t> best;
  double farthest = -1.0;
  // Of very many a sample stands as far apart.
  const std::size_t step = 1 + middle.size() / k_most_compared;
  for (std::size_t i = 0; i < middle.size(); i += step) {
    for (std::size_t k = i + step; k < middle.size(); k += step) {
      const double apart =
          glm::distance(dish.facets[middle[i]].centre_m, dish.facets[middle[k]].centre_m);
      // Opposite pairs of a symmetric dish are equally far but for rounding: the first is taken.
      if (apart > farthest * (1.0 + 1e-9)) {
        farthest = apart;
        best = {middle[i], middle[k]};
      }
    }
  }
  return best;
}

Result<NudgeVerdict> read_nudge(const dish::Dish& dish, const Sighting& sighting,
                                const std::vector<std::size_t>& facets,
                                const std::vector<std::array<Vec2, k_nudge_looks>>& seen_m,
                                double spot_sigma_m) {
  CHECK(facets.size() == seen_m.size(), "every nudged facet has its looks");
  NudgeVerdict verdict;
  std::vector<FacetHistory> histories;
  for (std::size_t i = 0; i < facets.size(); ++i) {
    const dish::Facet& facet = dish.facets[facets[i]];
    const auto setup = set_up(dish, facet);
    if (!setup) return setup.problems();
    const auto nominal = response_of(setup.value(), sighting, facet.displacement_m);
    if (!nominal) return nominal.problems();
    NudgeReading reading{.facet = facets[i],
                         .nominal = nominal.value(),
                         .sigma_m = std::sqrt(2.0) * spot_sigma_m / k_nudge_turns};
    for (std::size_t k = 0; k < 3; ++k) {
      reading.measured[k] = (seen_m[i][k + 1] - seen_m[i][k]) / k_nudge_turns;
      reading.gain[k] = glm::dot(reading.measured[k], reading.nominal[k]) /
                        glm::dot(reading.nominal[k], reading.nominal[k]);
    }
    verdict.readings.push_back(reading);
    histories.push_back(history_of(dish, facets[i], seen_m[i], spot_sigma_m, nominal.value()));
  }
  if (histories.empty()) return base::Problem{"nudge", "no facet", "one or two facets with looks"};
  const dish::Mount& mount = *dish::find_mount(dish, dish.facets[facets[0]].mount);
  verdict.labels = judge_fleet(dish, histories, mount, sighting, {});
  say(verdict);
  return verdict;
}

}  // namespace align
