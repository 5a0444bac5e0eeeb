// Checks, and what can be worked out before anybody plays.
#include "practice/stage.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace practice {
namespace {

using base::Problem;
using base::Problems;
using base::Result;
using base::Vec2;
using naming::Scheme;

constexpr int k_most_rounds = 50;

Problems check_practice(const Settings& settings) {
  Problems problems;
  const auto between = [&](const char* what, double value, double least, double most) {
    if (value >= least && value <= most) return;
    problems.push_back({what, fmt::format("{}", value), fmt::format("{} to {}", least, most)});
  };
  between("rounds", settings.rounds, 1, k_most_rounds);
  between("tilt per axis in rad", settings.errors.tilt_rad, 0.0, 0.1);
  if (settings.errors.between_rad) {
    const auto [least, most] = *settings.errors.between_rad;
    between("least tilt in rad", least, 0.0, 0.1);
    between("greatest tilt in rad", most, least, 0.1);
  }
  between("gain error of a screw", settings.errors.gain, 0.0, 0.5);
  between("false spots in a photograph", settings.camera.false_spots, 0.0, 20.0);
  between("chance that a spot is missed", settings.camera.missed, 0.0, 0.9);
  if (!(settings.camera.spot_sigma_m > 0.0)) {
    problems.push_back({"noise of a spot in m", fmt::format("{}", settings.camera.spot_sigma_m),
                        "a number above zero"});
  }
  return problems;
}

align::Sighting believed_sighting(const dish::Dish& dish, const PlayedScheme& scheme) {
  if (scheme.scheme == Scheme::defocus)
    return naming::defocus_sighting(dish, scheme.before_focus_m);
  align::Sighting sighting = naming::defocus_sighting(dish, 0.0);
  if (scheme.scheme == Scheme::look_back) {
    sighting.source = dish::LampSource{{0.0, 0.0, scheme.camera_m}};
  }
  return sighting;
}

align::Sighting true_sighting(align::Sighting sighting, const HiddenErrors& errors) {
  if (auto* sun = std::get_if<dish::SunSource>(&sighting.source)) {
    sun->tracking_error_rad = errors.sun_rad;
  }
  sighting.dish_from_board.origin -= errors.board_off_m * sighting.dish_from_board.z();
  return sighting;
}

/// Priors about where the facets are sent: nominal, or the places of the array with what gain
/// errors and hands add on the way there.
std::vector<naming::FacetPrior> stage_priors(const Stage& stage, double sigma_rad) {
  std::vector<naming::FacetPrior> priors;
  for (std::size_t i = 0; i < stage.practice.setups.size(); ++i) {
    naming::FacetPrior prior{.facet = i, .sigma_rad = sigma_rad};
    if (!stage.array.empty()) {
      prior.displacement_m = stage.array[i].displacement_m;
      const double way_rad =
          0.5 * glm::length(stage.array[i].cell_m) / stage.practice.dish->focal_length_m;
      prior.sigma_rad =
          std::sqrt(base::square(sigma_rad) + base::square(stage.settings.errors.gain * way_rad) +
                    base::square(0.5 * naming::k_turned_tilt_rad));
    }
    priors.push_back(prior);
  }
  return priors;
}

}  // namespace

Result<Stage> set_stage(const dish::Dish& dish, const Settings& settings) {
  Problems problems = check_practice(settings);
  auto practice = set_up(dish);
  if (!practice) base::append(problems, practice.problems());
  if (!problems.empty()) return problems;
  Stage stage{.practice = std::move(practice).value(), .settings = settings};
  const PlayedScheme& scheme = settings.scheme;
  stage.believed = believed_sighting(dish, scheme);
  stage.truth = true_sighting(stage.believed, settings.errors);
  const double before = scheme.scheme == Scheme::defocus ? scheme.before_focus_m : 0.0;
  stage.diameter_m = spot_diameter_m(dish.focal_length_m, before, settings.camera.hole_m);
  stage.settings.identify.spot_diameter_m = stage.diameter_m;
  if (scheme.scheme == Scheme::tilt_array) {
    auto array = naming::tilt_array(dish, stage.believed, scheme.cell_pitch_m);
    if (!array) return array.problems();
    stage.array = std::move(array).value();
  }
  const double start = prior_of(settings.errors);
  auto first = naming::target_of(dish, stage.believed, stage_priors(stage, start));
  if (!first) return first.problems();
  auto later = naming::target_of(dish, stage.believed,
                                 stage_priors(stage, std::min(start, naming::k_turned_tilt_rad)));
  if (!later) return later.problems();
  stage.first = std::move(first).value();
  stage.later = std::move(later).value();
  std::vector<Vec2> places;
  for (const naming::Cell& cell : stage.first.cells) places.push_back(cell.place_m);
  stage.cover = naming::cover_in(places, scheme.first_groups);
  if (scheme.scheme == Scheme::defocus && scheme.code) {
    if (places.size() > naming::k_most_coded) {
      return Problem{"facets", fmt::format("{} of them", places.size()),
                     fmt::format("at most {} for covers by a code", naming::k_most_coded)};
    }
    stage.codes = naming::cover_codes(places.size(), *scheme.code);
  }
  return stage;
}

}  // namespace practice
