// Each design is a focal length, a magnification and the receiver that brings the concentration.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "base/units.h"
#include "dish/facts.h"
#include "optics/merit.h"
#include "optics/optimise.h"
#include "optics/scene.h"
#include "optics/search_figures.h"
#include "optics/two_mirror.h"

namespace optics {
namespace {

using base::Problem;
using base::Problems;
using base::Result;

constexpr double k_on_parent = 1e-6;  ///< of the focal length: a facet this near lies on it
constexpr double k_close = 0.002;     ///< of the concentration, relative
constexpr int k_most_solves = 8;      ///< of the receiver's width, for one design
constexpr int k_scan = 9;             ///< designs of the first look over a range
constexpr int k_sections = 10;        ///< golden sections after it
constexpr int k_passes = 2;           ///< over focal length and magnification in turn

MirrorForm form_kind(const dish::SecondaryForm& form) {
  constexpr std::array<MirrorForm, 5> k_kinds{MirrorForm::flat, MirrorForm::hyperboloid,
                                              MirrorForm::ellipsoid, MirrorForm::sphere,
                                              MirrorForm::paraboloid};
  return k_kinds[form.index()];
}

/// What must stay as the secondary is solved anew: its margin over the exact edge, and the errors,
/// decentre and tilt of the one that stands.
struct Folding {
  TwoMirrorWishes wishes;
  double magnification = 1.0;
};

Result<std::optional<Folding>> folding_of(const dish::Dish& dish) {
  if (!dish.secondary) return std::optional<Folding>{};
  Folding folding;
  folding.wishes = wishes_for(dish, form_kind(dish.secondary->form));
  folding.wishes.is_beyond_focus = dish.secondary->vertex_m.z > dish.focal_length_m;
  folding.magnification = magnification_of(*dish.secondary, dish.focal_length_m);
  folding.wishes.receiver_z_m = dish.receiver.centre_m.z;
  if (folding.wishes.form != MirrorForm::flat) folding.wishes.magnification = folding.magnification;
  const auto exact = solve_two_mirror(folding.wishes);
  if (!exact) return exact.problems();
  folding.wishes.margin = dish.secondary->diameter_m / (2.0 * exact.value().edge_radius_m);
  folding.wishes.hole_diameter_m = dish.secondary->hole_diameter_m;
  return std::optional<Folding>(folding);
}

/// The dish with another focal length and magnification.
Result<dish::Dish> resized(const dish::Dish& dish, const std::optional<Folding>& folding,
                           double focal_length_m, double magnification) {
  dish::Dish made = refocused(dish, focal_length_m);
  if (!folding) return made;
  TwoMirrorWishes wishes = folding->wishes;
  wishes.focal_length_m = focal_length_m;
  if (wishes.magnification) wishes.magnification = magnification;
  const auto solved = solve_two_mirror(wishes);
  if (!solved) return solved.problems();
  const dish::Secondary& from = solved.value().secondary;
  made.secondary->form = from.form;
  made.secondary->vertex_m.z = from.vertex_m.z;
  made.secondary->diameter_m = from.diameter_m;
  return made;
}

/// Watts within a receiver of a width, from a map of a wider one of the same form.
double within(const FluxMap& map, SceneReceiver receiver, double width_m) {
  const double cell = map.size_m.x / map.columns;
  receiver.half_m *= width_m / receiver.longer_side_m;
  const std::vector<double> mask = receiver_mask(receiver, map.columns, map.size_m.x);
  double sum = 0.0;
  for (std::size_t k = 0; k < mask.size(); ++k) sum += mask[k] * map.flux_W_m2[k];
  return sum * cell * cell;
}

class SizeSearch {
 public:
  SizeSearch(const dish::Dish& dish, const SizeSettings& settings, Between receiver,
             std::optional<Folding> folding, const base::Progress& progress)
      : dish_(dish),
        settings_(settings),
        receiver_(receiver),
        folding_(std::move(folding)),
        progress_(progress),
        width_(std::clamp(receiver_width(dish.receiver), receiver.least, receiver.most)) {}

  void expect(int trials) { expected_ = trials; }
  [[nodiscard]] bool is_cancelled() const { return progress_.cancelled(); }
  [[nodiscard]] const std::vector<SizeTrial>& trials() const { return trials_; }
  [[nodiscard]] const std::optional<SizeTrial>& best() const { return best_; }
  [[nodiscard]] const dish::Dish& best_dish() const { return best_dish_; }
  [[nodiscard]] const Problems& last_problems() const { return last_problems_; }

  /// Watts of the best receiver for this design; below zero when it cannot be.
  double watts(double focal_length_m, double magnification) {
    SizeTrial trial{.focal_length_m = focal_length_m, .magnification = magnification};
    auto made = resized(dish_, folding_, focal_length_m, magnification);
    if (made) {
      solve_receiver(made.value(), trial);
    } else {
      last_problems_ = made.problems();
    }
    trials_.push_back(trial);
    progress_.tell(std::min(1.0, static_cast<double>(trials_.size()) / expected_));
    return trial.is_possible ? trial.receiver_W : -1.0;
  }

 private:
  /// The widest receiver within bounds whose mean concentration reaches the wanted one, found from
  /// the map of the last width and tried again until it is.
  void solve_receiver(dish::Dish made, SizeTrial& trial) {
    double width = width_;
    for (int solve = 0; solve < k_most_solves && !progress_.cancelled(); ++solve) {
      set_receiver_width(made.receiver, width);
      const auto light = evaluate(made, {.tracking_error_rad = settings_.tracking_error_rad,
                                         .map_cells = settings_.map_cells,
                                         .map_width_m = 1.6 * width});
      if (!light) {
        last_problems_ = light.problems();
        return;
      }
      const TraceResult& figures = light.value().figures;
      trial.receiver_m = width;
      trial.receiver_W = figures.power_receiver_W;
      trial.mean_concentration = figures.mean_concentration;
      const double ratio = figures.mean_concentration / settings_.mean_concentration;
      const bool is_widest = width >= receiver_.most * (1.0 - 1e-9) && ratio >= 1.0;
      if (is_widest || std::abs(ratio - 1.0) < k_close) {
        trial.is_possible = true;
        remember(trial, made);
        return;
      }
      const double next = width_for(light.value(), width, ratio > 1.0);
      if (next <= receiver_.least * (1.0 + 1e-9) && width <= receiver_.least * (1.0 + 1e-9)) return;
      width = next;
    }
  }

  /// By bisection on the map; beyond it by growing or shrinking boldly.
  [[nodiscard]] double width_for(const LiveState& light, double width, bool is_too_small) const {
    const SceneReceiver& receiver = light.scene->receiver;
    const FluxMap& map = light.figures.map;
    const double per_area = settings_.mean_concentration * light.figures.dni_W_m2;
    const auto reaches = [&](double tried) {
      const double scale = tried / width;
      return within(map, receiver, tried) >= per_area * receiver.area_m2 * scale * scale;
    };
    double low = is_too_small ? width : 0.05 * width;
    double high = is_too_small ? 1.6 * width : width;
    for (int step = 0; step < 24; ++step) {
      const double middle = 0.5 * (low + high);
      (reaches(middle) ? low : high) = middle;
    }
    return std::clamp(low, receiver_.least, receiver_.most);
  }

  void remember(const SizeTrial& trial, const dish::Dish& made) {
    width_ = trial.receiver_m;  // a good start for the next design
    if (best_ && best_->receiver_W >= trial.receiver_W) return;
    best_ = trial;
    best_dish_ = made;
  }

  const dish::Dish& dish_;
  const SizeSettings& settings_;
  Between receiver_;
  std::optional<Folding> folding_;
  const base::Progress& progress_;
  double width_;
  int expected_ = 1;
  std::vector<SizeTrial> trials_;
  std::optional<SizeTrial> best_;
  dish::Dish best_dish_;
  Problems last_problems_;
};

/// The greatest value over a range: a scan in even ratios, then golden sections about its best.
/// Source: Kiefer, Proc. Amer. Math. Soc. 4 (1953) 502.
double greatest_at(const Between& range, const std::function<double(double)>& value,
                   const std::function<bool()>& is_cancelled) {
  const double ratio = std::pow(range.most / range.least, 1.0 / (k_scan - 1));
  double best = range.least;
  double most = -2.0;
  for (int k = 0; k < k_scan && !is_cancelled(); ++k) {
    const double at = range.least * std::pow(ratio, k);
    const double here = value(at);
    if (here > most) {
      most = here;
      best = at;
    }
  }
  if (most < 0.0) return best;
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double low = std::max(range.least, best / ratio);
  double high = std::min(range.most, best * ratio);
  double inner = high - golden * (high - low);
  double outer = low + golden * (high - low);
  double at_inner = value(inner);
  double at_outer = value(outer);
  for (int k = 0; k < k_sections && !is_cancelled(); ++k) {
    if (at_inner >= at_outer) {
      high = outer;
      outer = inner;
      at_outer = at_inner;
      inner = high - golden * (high - low);
      at_inner = value(inner);
    } else {
      low = inner;
      inner = outer;
      at_inner = at_outer;
      outer = low + golden * (high - low);
      at_outer = value(outer);
    }
  }
  return at_inner >= at_outer ? inner : outer;
}

void check_between(Problems& problems, const char* key, const std::optional<Between>& between) {
  if (!between) return;
  const bool ok =
      between->least > 0.0 && between->most > between->least && std::isfinite(between->most);
  if (!ok) {
    problems.push_back({key, fmt::format("{} to {}", between->least, between->most),
                        "two numbers above zero, the smaller first"});
  }
}

Problems problems_of(const dish::Dish& dish, const SizeSettings& settings) {
  Problems problems;
  const double wanted = settings.mean_concentration;
  if (!(wanted > 0.0 && std::isfinite(wanted))) {
    problems.push_back({"mean_concentration", fmt::format("{}", wanted), "a number above zero"});
  }
  const double half_angle = dish.sun.half_angle_rad;
  if (half_angle > 0.0 && std::holds_alternative<dish::PillboxSun>(dish.sun.shape) &&
      wanted > limit_concentration_3d(half_angle)) {
    problems.push_back({"mean_concentration", fmt::format("{}", wanted),
                        fmt::format("at most {:.0f}, the thermodynamic limit of this sun",
                                    limit_concentration_3d(half_angle))});
  }
  check_between(problems, "focal_length_m", settings.focal_length_m);
  check_between(problems, "magnification", settings.magnification);
  check_between(problems, "receiver_mm", settings.receiver_m);
  if (settings.magnification && (!dish.secondary || dish.secondary->form.index() == 0)) {
    problems.push_back(
        {"magnification", "given without a curved secondary", "a dish with a curved secondary"});
  }
  if (settings.map_cells < 16 || settings.map_cells > 512 || settings.map_cells % 4 != 0) {
    problems.push_back(
        {"map_cells", fmt::format("{}", settings.map_cells), "16 to 512, a multiple of four"});
  }
  const bool turned =
      std::any_of(dish.facets.begin(), dish.facets.end(),
                  [](const dish::Facet& facet) { return facet.normal.has_value(); });
  if (turned && (settings.focal_length_m || settings.magnification)) {
    problems.push_back({"facets", "some have a normal of their own",
                        "facets canted to their aim, which can follow another focal length"});
  }
  return problems;
}

bool is_near_end(const std::optional<Between>& range, double value) {
  return range && (value < range->least * 1.005 || value > range->most / 1.005);
}

void run_search(SizeSearch& search, const dish::Dish& dish, const SizeSettings& settings,
                double magnification) {
  const auto cancelled = [&] { return search.is_cancelled(); };
  constexpr int k_each = k_scan + k_sections + 2;
  const bool both = settings.focal_length_m && settings.magnification;
  search.expect(1 + k_each * (both ? 2 * k_passes
                                   : int{settings.focal_length_m.has_value()} +
                                         int{settings.magnification.has_value()}));
  double f = dish.focal_length_m;
  double m = magnification;
  search.watts(f, m);
  for (int pass = 0; pass < (both ? k_passes : 1); ++pass) {
    if (settings.focal_length_m) {
      f = greatest_at(
          *settings.focal_length_m, [&](double at) { return search.watts(at, m); }, cancelled);
    }
    if (settings.magnification) {
      m = greatest_at(
          *settings.magnification, [&](double at) { return search.watts(f, at); }, cancelled);
    }
  }
}

}  // namespace

dish::Dish refocused(const dish::Dish& dish, double focal_length_m) {
  dish::Dish changed = dish;
  const double old = dish.focal_length_m;
  const double scale = focal_length_m / old;
  changed.focal_length_m = focal_length_m;
  for (dish::Facet& facet : changed.facets) {
    const double r2 = facet.centre_m.x * facet.centre_m.x + facet.centre_m.y * facet.centre_m.y;
    if (std::abs(facet.centre_m.z - r2 / (4.0 * old)) < k_on_parent * old) {
      facet.centre_m.z = r2 / (4.0 * focal_length_m);
    }
  }
  for (dish::FacetType& type : changed.facet_types) {
    if (auto* sphere = std::get_if<dish::Spherical>(&type.surface)) sphere->radius_m *= scale;
    if (auto* own = std::get_if<dish::Paraboloid>(&type.surface)) own->focal_length_m *= scale;
    if (auto* piece = std::get_if<dish::OffAxisParaboloid>(&type.surface)) {
      piece->focal_length_m *= scale;
    }
  }
  if (!dish.secondary) changed.receiver.centre_m.z += focal_length_m - old;
  return changed;
}

Result<SizeResult> size_dish(const dish::Dish& dish, const SizeSettings& settings,
                             const base::Progress& progress) {
  if (Problems problems = problems_of(dish, settings); !problems.empty()) return problems;
  const auto before = evaluate(dish, {.tracking_error_rad = settings.tracking_error_rad});
  if (!before) return before.problems();
  auto folding = folding_of(dish);
  if (!folding) return folding.problems();
  const double magnification = folding.value() ? folding.value()->magnification : 1.0;
  const double rim = 2.0 * dish::aperture_of(dish).rim_radius_m;
  SizeSearch search(dish, settings, settings.receiver_m.value_or(Between{0.001 * rim, rim}),
                    std::move(folding).value(), progress);
  run_search(search, dish, settings, magnification);
  if (search.is_cancelled()) return search_cancelled();
  if (!search.best()) {
    if (!search.last_problems().empty()) return search.last_problems();
    return Problem{"mean_concentration", fmt::format("{}", settings.mean_concentration),
                   "one that some design within these bounds reaches"};
  }
  SizeResult result;
  result.dish = search.best_dish();
  result.best = *search.best();
  result.trials = search.trials();
  result.before = search_figures(before.value());
  const auto after = evaluate(result.dish, {.tracking_error_rad = settings.tracking_error_rad});
  if (!after) return after.problems();
  result.after = search_figures(after.value());
  result.is_at_bound = is_near_end(settings.focal_length_m, result.best.focal_length_m) ||
                       is_near_end(settings.magnification, result.best.magnification) ||
                       is_near_end(settings.receiver_m, result.best.receiver_m);
  return result;
}

}  // namespace optics
