// Each choice of forms as a list of surfaces, judged by the noise-free evaluation of the dish.
#include "optics/form_choice.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <set>
#include <utility>

#include "optics/canting.h"
#include "optics/facet_surface.h"
#include "optics/live.h"
#include "optics/scene.h"
#include "optics/spot_of_form.h"

namespace optics {
namespace {

using base::Problem;
using base::Result;

/// Curvatures within this share of each other come from one mould: at a sag of 5 mm it is 2.5 um.
constexpr double k_same_mould = 5e-4;
constexpr double k_as_good = 0.01;  ///< share of the most watts that a simpler choice may lack

/// What the choices are made from: per facet the best curvature and how much it matters.
struct Fits {
  std::vector<double> curvature;
  std::vector<double> weight;
};

Fits fit_all(const dish::Dish& dish, const Scene& scene, double conic_constant,
             const std::vector<BestForm>& best) {
  Fits fits;
  for (std::size_t k = 0; k < best.size(); ++k) {
    const SceneFacet& facet = scene.facets[k];
    const FormSpot spot(scene, k, aim_point(dish, dish.facets[k]));
    const CurvatureFit fit = fit_curvature(spot, conic_constant, 0.5 / best[k].distance_m);
    const double light = scene.edges[facet.edge].area_m2 * std::cos(best[k].incidence_rad);
    fits.curvature.push_back(fit.curvature_per_m);
    fits.weight.push_back(std::max(light * fit.stiffness_m4, 1e-30));
  }
  return fits;
}

/// Runs of values that are as good as equal: each value's run, runs numbered by rising value.
std::vector<int> runs_of(const std::vector<double>& values, double same) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<int> run(values.size(), 0);
  double first = 0.0;
  int number = -1;
  for (const std::size_t k : order) {
    if (number < 0 || values[k] - first > same * std::abs(first)) {
      first = values[k];
      ++number;
    }
    run[k] = number;
  }
  return run;
}

int count_runs(const std::vector<int>& run) {
  return run.empty() ? 0 : 1 + *std::max_element(run.begin(), run.end());
}

/// Makes the options, all but their figures.
class Chooser {
 public:
  Chooser(const dish::Dish& dish, const Scene& scene, const std::vector<BestForm>& best)
      : dish_(dish),
        best_(best),
        sphere_(fit_all(dish, scene, 0.0, best)),
        paraboloid_(fit_all(dish, scene, -1.0, best)) {}

  [[nodiscard]] FormOption as_is() const {
    FormOption option{.kind = FormKind::as_is};
    std::map<std::string, int> numbers;
    for (const dish::Facet& facet : dish_.facets) {
      const dish::FacetType* type = dish::find_facet_type(dish_, facet.type);
      option.surface.push_back(type->surface);
      const int next = static_cast<int>(numbers.size());
      option.mould.push_back(numbers.emplace(type->name.text, next).first->second);
    }
    option.moulds = static_cast<int>(numbers.size());
    return option;
  }

  [[nodiscard]] FormOption flat() const {
    FormOption option{.kind = FormKind::flat};
    option.surface.assign(best_.size(), dish::Flat{});
    option.mould.assign(best_.size(), 0);
    return option;
  }

  [[nodiscard]] FormOption spheres(FormKind kind, int groups) const {
    FormOption option{.kind = kind};
    const Grouping grouping = group_values(sphere_.curvature, sphere_.weight, groups);
    for (const double curvature : grouping.centre) option.radius_m.push_back(1.0 / curvature);
    return with_moulds(std::move(option), grouping.group);
  }

  [[nodiscard]] FormOption common_paraboloid() const {
    FormOption option{.kind = FormKind::common_paraboloid, .moulds = 1};
    const Grouping grouping = group_values(paraboloid_.curvature, paraboloid_.weight, 1);
    const double radius = 1.0 / grouping.centre[0];
    option.radius_m = {radius};
    option.surface.assign(best_.size(), dish::Paraboloid{.focal_length_m = 0.5 * radius});
    option.mould.assign(best_.size(), 0);
    return option;
  }

  /// Spheres that differ by less than a mould can tell share one: their weighted mean.
  [[nodiscard]] FormOption own_spheres() const {
    FormOption option{.kind = FormKind::own_sphere};
    const std::vector<int> run = runs_of(sphere_.curvature, k_same_mould);
    std::vector<double> sum(static_cast<std::size_t>(count_runs(run)), 0.0);
    std::vector<double> weight(sum.size(), 0.0);
    for (std::size_t k = 0; k < run.size(); ++k) {
      const auto group = static_cast<std::size_t>(run[k]);
      sum[group] += sphere_.weight[k] * sphere_.curvature[k];
      weight[group] += sphere_.weight[k];
    }
    for (std::size_t g = 0; g < sum.size(); ++g) option.radius_m.push_back(weight[g] / sum[g]);
    return with_moulds(std::move(option), run);
  }

  /// Pieces are the same when focal length and off-axis distance are; the meridian only says how
  /// the outline lies on the mould.
  [[nodiscard]] FormOption own_pieces() const {
    FormOption option{.kind = FormKind::own_piece};
    std::vector<double> focal;
    std::vector<double> off_axis;
    for (const BestForm& form : best_) {
      option.surface.emplace_back(form.piece);
      focal.push_back(form.piece.focal_length_m);
      off_axis.push_back(form.piece.off_axis_m.value_or(0.0) + form.piece.focal_length_m);
    }
    const std::vector<int> by_focal = runs_of(focal, k_same_mould);
    const std::vector<int> by_place = runs_of(off_axis, k_same_mould);
    std::map<std::pair<int, int>, int> numbers;
    for (std::size_t k = 0; k < best_.size(); ++k) {
      const int next = static_cast<int>(numbers.size());
      option.mould.push_back(
          numbers.emplace(std::pair(by_focal[k], by_place[k]), next).first->second);
    }
    option.moulds = static_cast<int>(numbers.size());
    return option;
  }

  [[nodiscard]] int distinct_spheres() const {
    return count_runs(runs_of(sphere_.curvature, k_same_mould));
  }

 private:
  static FormOption with_moulds(FormOption option, const std::vector<int>& mould) {
    option.moulds = static_cast<int>(option.radius_m.size());
    option.mould = mould;
    for (const int number : mould) {
      option.surface.emplace_back(
          dish::Spherical{.radius_m = option.radius_m[static_cast<std::size_t>(number)]});
    }
    return option;
  }

  const dish::Dish& dish_;
  const std::vector<BestForm>& best_;
  Fits sphere_;
  Fits paraboloid_;
};

std::vector<FormOption> all_options(const Chooser& chooser, int most_groups) {
  std::vector<FormOption> options{chooser.as_is(), chooser.flat(),
                                  chooser.spheres(FormKind::common_sphere, 1),
                                  chooser.common_paraboloid()};
  const int most = std::min(most_groups, chooser.distinct_spheres() - 1);
  for (int groups = 2; groups <= most; ++groups) {
    options.push_back(chooser.spheres(FormKind::groups, groups));
  }
  options.push_back(chooser.own_spheres());
  options.push_back(chooser.own_pieces());
  return options;
}

void measure_sags(const dish::Dish& dish, const Scene& scene, FormOption& option) {
  option.least_sag_m = std::numeric_limits<double>::infinity();
  option.most_sag_m = -option.least_sag_m;
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    const SceneFacet& facet = scene.facets[k];
    const Quadric surface =
        facet_quadric(option.surface[k], dish.facets[k], facet.dish_from_facet.z());
    double edge = 0.0;
    for (const base::Vec2& p : boundary(scene.edges[facet.edge], 32)) {
      const double height = sag(surface, p.x, p.y);
      if (std::abs(height) > std::abs(edge)) edge = height;
    }
    option.least_sag_m = std::min(option.least_sag_m, edge);
    option.most_sag_m = std::max(option.most_sag_m, edge);
  }
}

/// Light of the whole dish with these surfaces.
base::Problems judge(const dish::Dish& dish, const FormSettings& settings, FormOption& option) {
  const auto light = evaluate(with_surfaces(dish, option.surface),
                              {.tracking_error_rad = settings.tracking_error_rad});
  if (!light) return light.problems();
  const TraceResult& figures = light.value().figures;
  option.receiver_W = figures.power_receiver_W;
  option.spot_rms_m = std::hypot(figures.rms_m.x, figures.rms_m.y);
  option.spot_r90_m = figures.radius_m[1];
  option.peak_concentration = figures.peak_concentration;
  return {};
}

/// Fewest moulds within a hundredth of the most watts; what the dish has now is no choice.
std::size_t recommended_of(const std::vector<FormOption>& options) {
  double most = 0.0;
  for (const FormOption& option : options) most = std::max(most, option.receiver_W);
  std::size_t chosen = options.size() - 1;
  for (std::size_t k = options.size(); k-- > 0;) {
    const FormOption& option = options[k];
    if (option.kind == FormKind::as_is || option.receiver_W < (1.0 - k_as_good) * most) continue;
    const bool better_chosen = options[chosen].receiver_W >= (1.0 - k_as_good) * most &&
                               options[chosen].moulds < option.moulds;
    if (!better_chosen) chosen = k;
  }
  return chosen;
}

bool is_same(const dish::Surface& a, const dish::Surface& b) {
  if (a.index() != b.index()) return false;
  if (const auto* sphere = std::get_if<dish::Spherical>(&a)) {
    return sphere->radius_m == std::get<dish::Spherical>(b).radius_m;
  }
  if (const auto* paraboloid = std::get_if<dish::Paraboloid>(&a)) {
    return paraboloid->focal_length_m == std::get<dish::Paraboloid>(b).focal_length_m;
  }
  if (const auto* piece = std::get_if<dish::OffAxisParaboloid>(&a)) {
    const auto& other = std::get<dish::OffAxisParaboloid>(b);
    return piece->focal_length_m == other.focal_length_m && piece->off_axis_m == other.off_axis_m &&
           piece->meridian_rad == other.meridian_rad;
  }
  return true;
}

}  // namespace

const char* key_of(FormKind kind) {
  switch (kind) {
    case FormKind::as_is:
      return "as_is";
    case FormKind::flat:
      return "flat";
    case FormKind::common_sphere:
      return "common_sphere";
    case FormKind::common_paraboloid:
      return "common_paraboloid";
    case FormKind::groups:
      return "groups";
    case FormKind::own_sphere:
      return "own_sphere";
    case FormKind::own_piece:
      return "own_piece";
  }
  return "";
}

const char* words_of(FormKind kind) {
  switch (kind) {
    case FormKind::as_is:
      return "as it is now";
    case FormKind::flat:
      return "all flat";
    case FormKind::common_sphere:
      return "one sphere for all";
    case FormKind::common_paraboloid:
      return "one paraboloid for all";
    case FormKind::groups:
      return "spheres from a few moulds";
    case FormKind::own_sphere:
      return "each its own sphere";
    case FormKind::own_piece:
      return "each its own piece of a paraboloid";
  }
  return "";
}

dish::Dish with_surfaces(const dish::Dish& dish, const std::vector<dish::Surface>& surfaces) {
  BASE_CHECK(surfaces.size() == dish.facets.size(), "each facet has its surface");
  dish::Dish changed = dish;
  changed.facet_types.clear();
  std::set<std::string> taken;
  for (const dish::FacetType& type : dish.facet_types) taken.insert(type.name.text);
  // Per old type: where its variants stand in the new list.
  std::map<std::string, std::vector<std::size_t>> variants;
  for (std::size_t k = 0; k < surfaces.size(); ++k) {
    const dish::FacetType* old = dish::find_facet_type(dish, dish.facets[k].type);
    if (old == nullptr) continue;
    auto& own = variants[old->name.text];
    const auto found = std::find_if(own.begin(), own.end(), [&](std::size_t at) {
      return is_same(changed.facet_types[at].surface, surfaces[k]);
    });
    std::size_t at = found == own.end() ? changed.facet_types.size() : *found;
    if (found == own.end()) {
      dish::FacetType made = *old;
      made.surface = surfaces[k];
      for (std::size_t n = own.size() + 1; n > 1; ++n) {
        made.name.text = fmt::format("{} {}", old->name.text, n);
        if (taken.insert(made.name.text).second) break;
      }
      changed.facet_types.push_back(std::move(made));
      own.push_back(at);
    }
    changed.facets[k].type = changed.facet_types[at].name;
  }
  // Types that no facet has keep what they were.
  for (const dish::FacetType& type : dish.facet_types) {
    if (variants.count(type.name.text) == 0) changed.facet_types.push_back(type);
  }
  return changed;
}

Result<FormChoice> choose_forms(const dish::Dish& dish, const FormSettings& settings,
                                const base::Progress& progress) {
  if (settings.most_groups < 1 || settings.most_groups > 12) {
    return Problem{"most_groups", fmt::format("{}", settings.most_groups), "1 to 12"};
  }
  constexpr double k_share_of_best = 0.4;
  const base::Progress first{[&](double done) { progress.tell(k_share_of_best * done); },
                             progress.is_cancelled};
  auto best = best_forms(dish, first);
  if (!best) return best.problems();
  const dish::Dish nominal = at_nominal(dish);
  const auto scene = make_scene(nominal, {});
  if (!scene) return scene.problems();
  FormChoice choice;
  choice.facets = std::move(best).value();
  const Chooser chooser(nominal, scene.value(), choice.facets);
  choice.options = all_options(chooser, settings.most_groups);
  for (std::size_t k = 0; k < choice.options.size(); ++k) {
    if (progress.cancelled()) return Problem{"cancelled", "", "a search that was let finish"};
    FormOption& option = choice.options[k];
    measure_sags(nominal, scene.value(), option);
    if (const auto problems = judge(nominal, settings, option); !problems.empty()) return problems;
    progress.tell(k_share_of_best + (1.0 - k_share_of_best) * static_cast<double>(k + 1) /
                                        static_cast<double>(choice.options.size()));
  }
  choice.recommended = recommended_of(choice.options);
  return choice;
}

}  // namespace optics
