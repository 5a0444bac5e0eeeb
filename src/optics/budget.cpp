// Two traces for each cause, all with the same random points.
#include "optics/budget.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/check.h"
#include "base/sums.h"
#include "optics/budget_advice.h"
#include "optics/budget_dish.h"
#include "optics/spot_grid.h"
#include "optics/trace_part.h"

namespace optics {
namespace {

using base::Problem;
using base::Result;
using base::Vec2;

constexpr int k_map_cells = 64;  ///< of the trace that is handed on
constexpr int k_few_cells = 8;   ///< of those that only count watts

/// The perfect dish has the real receiver: what light would cost past an endless one is nothing.
const Causes k_perfect = Causes::none().with(Cause::receiver_size);

/// What of a trace the budget looks at.
struct Light {
  double receiver_W = 0.0;
  std::vector<double> copies_W;
  Vec2 centroid_m{0.0, 0.0};
  double variance_m2 = 0.0;  ///< both axes together, about its own middle
  bool is_lit = false;
};

Light light_of(const TraceResult& result) {
  return {result.power_receiver_W, result.copies_W, result.centroid_m,
          glm::dot(result.rms_m, result.rms_m), result.power_plane_W > 0.0};
}

/// Mean square distance of the light from a point.
double about(const Light& light, const Vec2& point) {
  const Vec2 off = light.centroid_m - point;
  return light.variance_m2 + glm::dot(off, off);
}

/// Standard error of a difference of means, from its own spread over the copies.
double error_of_difference(const Light& a, const Light& b) {
  const auto count = static_cast<double>(a.copies_W.size());
  BASE_CHECK(a.copies_W.size() == b.copies_W.size() && count > 1.0,
             "traces that are compared have the same copies");
  double square = 0.0;
  const double mean = a.receiver_W - b.receiver_W;
  for (std::size_t k = 0; k < a.copies_W.size(); ++k) {
    const double off = a.copies_W[k] - b.copies_W[k] - mean;
    square += off * off;
  }
  return std::sqrt(square / (count * (count - 1.0)));
}

/// Traces variants of one dish, and tells how far the whole is.
class Comparison {
 public:
  Comparison(const dish::Dish& dish, const BudgetSettings& settings, std::vector<BestForm> best,
             const base::Progress& progress)
      : dish_(dish), settings_(settings), best_(std::move(best)), progress_(progress) {}

  void expect(std::size_t traces) { expected_ = traces; }

  Result<TraceResult> trace_with(const Causes& causes, int map_cells) {
    const auto scene = scene_with(dish_, best_, settings_.tracking_error_rad, causes);
    if (!scene) return scene.problems();
    const TraceSettings trace{.rays = settings_.rays,
                              .seed = settings_.seed,
                              .tracking_error_rad = settings_.tracking_error_rad,
                              .map_cells = map_cells,
                              .map_width_m = 0.0,
                              .workers = settings_.workers};
    const double before = share(done_);
    const double after = share(++done_);
    const base::Progress part{
        [&](double done) { progress_.tell(before + (after - before) * done); },
        progress_.is_cancelled};
    return trace_scene(scene.value(), trace, part);
  }

  Result<Light> light_with(const Causes& causes) {
    const auto result = trace_with(causes, k_few_cells);
    if (!result) return result.problems();
    return light_of(result.value());
  }

  [[nodiscard]] const std::vector<BestForm>& best() const { return best_; }

 private:
  [[nodiscard]] double share(std::size_t done) const {
    return expected_ > 0 ? std::min(1.0, static_cast<double>(done) / static_cast<double>(expected_))
                         : 0.0;
  }

  const dish::Dish& dish_;
  const BudgetSettings& settings_;
  std::vector<BestForm> best_;
  const base::Progress& progress_;
  std::size_t expected_ = 0;
  std::size_t done_ = 0;
};

/// How far the light travels for a turn of the facet's ray to move it over the receiver: to where
/// it gathers, times the secondary's magnification.
double mean_way(const std::vector<BestForm>& best, double magnification) {
  base::Sum sum;
  for (const BestForm& form : best) sum.add(form.distance_m);
  return sum.value() / static_cast<double>(best.size()) * magnification;
}

/// The two ends that every cause is measured from.
struct Ends {
  Light as_is;
  Light perfect;
  double way_m = 0.0;
};

Result<CauseCost> cost_of(Comparison& compare, const Ends& ends, Cause cause) {
  const auto without = compare.light_with(Causes::all().without(cause));
  if (!without) return without.problems();
  // An aureole is nothing without its disc, so it is added to the perfect dish under the bare disc;
  // and only an endless receiver has none of what the real one loses.
  const bool on_disc = cause == Cause::circumsolar;
  const bool is_receiver = cause == Cause::receiver_size;
  const Causes base = on_disc       ? k_perfect.with(Cause::sun_size)
                      : is_receiver ? Causes::none()
                                    : k_perfect;
  const auto bare = on_disc || is_receiver ? compare.light_with(base) : Result<Light>(ends.perfect);
  if (!bare) return bare.problems();
  const Light& perfect = bare.value();
  const auto alone = compare.light_with(base.with(cause));
  if (!alone) return alone.problems();
  CauseCost cost{.cause = cause, .is_present = true};
  cost.gain_W = without.value().receiver_W - ends.as_is.receiver_W;
  cost.gain_error_W = error_of_difference(without.value(), ends.as_is);
  cost.loss_W = perfect.receiver_W - alone.value().receiver_W;
  cost.loss_error_W = error_of_difference(perfect, alone.value());
  const Vec2 middle = ends.perfect.centroid_m;
  if (ends.as_is.is_lit && without.value().is_lit) {
    cost.narrower_m =
        std::sqrt(about(ends.as_is, middle)) - std::sqrt(about(without.value(), middle));
  }
  if (perfect.is_lit && alone.value().is_lit) {
    cost.blur_m = std::sqrt(std::max(about(alone.value(), middle) - about(perfect, middle), 0.0));
    cost.blur_rad = ends.way_m > 0.0 ? cost.blur_m / ends.way_m : 0.0;
  }
  return cost;
}

/// The changeable first, by gain; then what nobody can change, by gain; the absent last.
void rank(std::vector<CauseCost>& costs) {
  const auto group = [](const CauseCost& cost) {
    if (!cost.is_present) return 2;
    return remedy_of(cost.cause) == Remedy::none ? 1 : 0;
  };
  std::stable_sort(costs.begin(), costs.end(), [&](const CauseCost& a, const CauseCost& b) {
    if (group(a) != group(b)) return group(a) < group(b);
    return a.gain_W > b.gain_W;
  });
}

void add_up(Budget& budget, const Ends& ends) {
  budget.as_is_W = ends.as_is.receiver_W;
  budget.as_is_error_W = budget.as_is.standard_error_W;
  budget.perfect_W = ends.perfect.receiver_W;
  budget.together_W = budget.perfect_W - budget.as_is_W;
  budget.mean_way_m = ends.way_m;
  double square = about(ends.perfect, ends.perfect.centroid_m);
  for (const CauseCost& cost : budget.costs) {
    budget.sum_of_gains_W += cost.gain_W;
    budget.sum_of_losses_W += cost.loss_W;
    square += cost.blur_m * cost.blur_m;
  }
  budget.quadrature_radius_m = std::sqrt(square);
  budget.rms_radius_m =
      ends.as_is.is_lit ? std::sqrt(about(ends.as_is, ends.perfect.centroid_m)) : 0.0;
}

}  // namespace

Result<Budget> budget(const dish::Dish& dish, const BudgetSettings& settings,
                      const base::Progress& progress) {
  if (settings.rays < 1) return Problem{"rays", "0", "at least one"};
  // The plain scene first: its problems are the dish's own.
  const auto scene = make_scene(dish, {.tracking_error_rad = settings.tracking_error_rad});
  if (!scene) return scene.problems();
  // Perfect facets have no normal of their own.
  dish::Dish aimed = dish;
  for (dish::Facet& facet : aimed.facets) facet.normal.reset();
  auto best = best_forms(aimed, {nullptr, progress.is_cancelled});
  if (!best) return best.problems();

  std::vector<Cause> present;
  for (const Cause cause : k_all_causes) {
    if (is_present(dish, scene.value(), settings.tracking_error_rad, cause))
      present.push_back(cause);
  }
  Comparison compare(dish, settings, std::move(best).value(), progress);
  compare.expect(2 + 2 * present.size());
  auto as_is = compare.trace_with(Causes::all(), k_map_cells);
  if (!as_is) return as_is.problems();
  const auto perfect = compare.light_with(k_perfect);
  if (!perfect) return perfect.problems();

  Budget budget;
  budget.as_is = std::move(as_is).value();
  const auto merit = merit_of(dish, budget.as_is);
  if (!merit) return merit.problems();
  budget.merit = merit.value();
  const Ends ends{light_of(budget.as_is), perfect.value(),
                  mean_way(compare.best(), budget.merit.magnification)};
  for (const Cause cause : k_all_causes) {
    if (std::find(present.begin(), present.end(), cause) == present.end()) {
      budget.costs.push_back({.cause = cause});
      continue;
    }
    const auto cost = cost_of(compare, ends, cause);
    if (!cost) return cost.problems();
    budget.costs.push_back(cost.value());
  }
  rank(budget.costs);
  add_up(budget, ends);
  budget.advice = advice_for(budget);
  return budget;
}

}  // namespace optics
