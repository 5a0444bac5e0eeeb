// Hidden errors, photographs of them, and turns.
#include "practice/hidden_dish.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "align/solve.h"
#include "base/check.h"
#include "base/elementary.h"
#include "base/hash.h"

namespace practice {
namespace {

using base::Vec2;

constexpr double k_sun_disc_rad = 0.0093;  ///< 32 arc minutes

/// Screw displacements that tilt a facet about its own x and y and leave its foot where it is.
std::array<double, 3> displacement_for(const align::FacetSetup& setup, const Vec2& tilt_rad) {
  const base::Mat3 frame = base::frame_of_normal(setup.nominal.normal, setup.facet->clocking_rad);
  const base::Vec3 about = tilt_rad.x * frame[0] + tilt_rad.y * frame[1];
  const base::Vec3 normal =
      base::unit(setup.nominal.normal + glm::cross(about, setup.nominal.normal));
  const Vec2 change = adjusters::slopes_of_normal(setup.bracket, normal) -
                      adjusters::slopes_of_normal(setup.bracket, setup.nominal.normal);
  std::array<double, 3> displacement{};
  for (std::size_t k = 0; k < 3; ++k) {
    displacement[k] = glm::dot(setup.bracket.seats_m[k] - setup.bracket.foot_m, change);
  }
  return displacement;
}

Vec2 drawn_tilt(const HiddenErrors& errors, Draws& draws) {
  if (!errors.between_rad) return errors.tilt_rad * Vec2(draws.normal(), draws.normal());
  const auto [least, most] = *errors.between_rad;
  const double size = least + (most - least) * draws.uniform();
  const base::SinCos way = base::sincos_turns(draws.uniform());
  return size * Vec2(way.cos, way.sin);
}

struct Blob {
  Vec2 board_m{0.0, 0.0};
  double flux = 0.0;
  std::vector<std::size_t> owners;
};

/// Runs blobs together that are nearer than `apart_m`, by chains, to their middle by light.
std::vector<Blob> run_together(const std::vector<Blob>& blobs, double apart_m) {
  std::vector<std::size_t> head(blobs.size());
  std::iota(head.begin(), head.end(), std::size_t{0});
  for (std::size_t i = 0; i < blobs.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (head[i] == head[j] || glm::distance(blobs[i].board_m, blobs[j].board_m) >= apart_m) {
        continue;
      }
      const std::size_t low = std::min(head[i], head[j]);
      const std::size_t high = std::max(head[i], head[j]);
      std::replace(head.begin(), head.end(), high, low);
    }
  }
  std::vector<Blob> merged;
  for (std::size_t h = 0; h < blobs.size(); ++h) {
    if (head[h] != h) continue;
    Blob whole;
    for (std::size_t i = h; i < blobs.size(); ++i) {
      if (head[i] != h) continue;
      whole.board_m += blobs[i].flux * blobs[i].board_m;
      whole.flux += blobs[i].flux;
      whole.owners.insert(whole.owners.end(), blobs[i].owners.begin(), blobs[i].owners.end());
    }
    whole.board_m /= whole.flux;
    merged.push_back(std::move(whole));
  }
  return merged;
}

Vec2 noise(double sigma, Draws& draws) {
  const double x = draws.normal();
  return {sigma * x, sigma * draws.normal()};
}

}  // namespace

double prior_of(const HiddenErrors& errors) {
  if (!errors.between_rad) return errors.tilt_rad;
  // Mean square of a uniform size, shared by two axes.
  const auto [least, most] = *errors.between_rad;
  return std::sqrt((least * least + least * most + most * most) / 6.0);
}

Draws::Draws(std::uint64_t seed, std::uint32_t trial, std::uint32_t purpose)
    : key_{static_cast<std::uint32_t>(seed),
           static_cast<std::uint32_t>(seed >> 32u) + 0x9e3779b9u * purpose, trial} {}

double Draws::uniform() {
  return base::open_unit(base::hash4({key_[0], key_[1], key_[2], counter_++})[0]);
}

double Draws::normal() { return base::inverse_normal(uniform()); }

std::size_t Draws::poisson(double mean) {
  const double limit = base::exp_of(-mean);
  std::size_t count = 0;
  for (double product = uniform(); product > limit; product *= uniform()) ++count;
  return count;
}

base::Result<PracticeDish> practice_dish(const dish::Dish& dish) {
  PracticeDish practice{.dish = &dish};
  base::Problems problems;
  for (const dish::Facet& facet : dish.facets) {
    auto setup = align::set_up(dish, facet);
    if (setup) {
      practice.setups.push_back(std::move(setup).value());
    } else {
      base::append(problems, setup.problems());
    }
  }
  if (dish.facets.empty()) problems.push_back({"facets", "none", "at least one facet"});
  if (!problems.empty()) return problems;
  return practice;
}

Hidden hide(const PracticeDish& practice, const HiddenErrors& errors, Draws& draws) {
  Hidden hidden;
  for (const align::FacetSetup& setup : practice.setups) {
    hidden.displacement_m.push_back(displacement_for(setup, drawn_tilt(errors, draws)));
    std::array<double, 3> gain{};
    for (double& each : gain) each = 1.0 + errors.gain * draws.normal();
    hidden.gain.push_back(gain);
    std::array<std::size_t, 3> labels{0, 1, 2};
    if (draws.chance(errors.swapped_labels)) {
      const auto kept = static_cast<std::size_t>(3.0 * draws.uniform());
      std::swap(labels[(kept + 1) % 3], labels[(kept + 2) % 3]);
    }
    hidden.screw_of_label.push_back(labels);
  }
  return hidden;
}

double spot_diameter_m(double focal_length_m, double before_focus_m, double hole_m) {
  return hole_m * before_focus_m / focal_length_m +
         k_sun_disc_rad * (focal_length_m - before_focus_m);
}

PracticePhoto observe(const PracticeDish& practice, const Hidden& hidden,
                      const align::Sighting& sighting, const std::vector<std::size_t>& uncovered,
                      const Camera& camera, double diameter_m, Draws& draws) {
  std::vector<Blob> blobs;
  const double half = camera.board_half_width_m;
  for (const std::size_t i : uncovered) {
    const align::FacetSetup& setup = practice.setups[i];
    const auto pose =
        align::pose_at(setup, setup.heights_at(hidden.displacement_m[i]), align::Pivot::mount);
    const auto mark = align::expected_mark(*practice.dish, *setup.facet, pose, sighting);
    if (!mark || draws.chance(camera.missed)) continue;
    const Vec2 at = mark.value().board_m;
    if (half > 0.0 && std::max(std::abs(at.x), std::abs(at.y)) > half) continue;
    blobs.push_back({at, 1.0, {i}});
  }
  PracticePhoto seen;
  blobs = run_together(blobs, camera.merged_below * diameter_m);
  const std::size_t strangers = draws.poisson(camera.false_spots);
  const double reach = half > 0.0 ? half : 0.25 * practice.dish->focal_length_m;
  for (std::size_t k = 0; k < strangers; ++k) {
    const double right = (2.0 * draws.uniform() - 1.0) * reach;
    blobs.push_back({{right, (2.0 * draws.uniform() - 1.0) * reach}, 1.0, {}});
  }
  for (Blob& blob : blobs) {
    blob.board_m += noise(camera.spot_sigma_m, draws);
    blob.flux *= std::max(0.1, 1.0 + camera.flux_sigma * draws.normal());
  }
  std::stable_sort(blobs.begin(), blobs.end(), [](const Blob& one, const Blob& other) {
    return one.board_m.x < other.board_m.x;
  });
  for (Blob& blob : blobs) {
    seen.spots.push_back(
        {.board_m = blob.board_m, .sigma_m = camera.spot_sigma_m, .flux = blob.flux});
    seen.owners.push_back(std::move(blob.owners));
  }
  return seen;
}

void turn(const PracticeDish& practice, Hidden& hidden, const std::vector<naming::ToldTurns>& told,
          const naming::Hands& hands, Draws& draws) {
  for (const naming::ToldTurns& facet : told) {
    for (std::size_t k = 0; k < 3; ++k) {
      if (facet.turns[k] == 0.0) continue;
      const std::size_t screw = hidden.screw_of_label[facet.facet][k];
      const double turned = facet.turns[k] + hands.turn_sigma_turns * draws.normal();
      hidden.displacement_m[facet.facet][screw] +=
          turned * practice.setups[facet.facet].rise_per_turn_m[screw] *
          hidden.gain[facet.facet][screw];
    }
  }
}

std::vector<double> tilts_left(const PracticeDish& practice, const Hidden& hidden) {
  std::vector<double> tilts;
  for (std::size_t i = 0; i < practice.setups.size(); ++i) {
    const align::FacetSetup& setup = practice.setups[i];
    const auto pose =
        align::pose_at(setup, setup.heights_at(hidden.displacement_m[i]), align::Pivot::mount);
    const auto wanted = align::desired_normal(*practice.dish, *setup.facet, pose.centre);
    CHECK(wanted.ok(), "a facet that had a nominal pose has one a little further on");
    tilts.push_back(std::asin(std::min(1.0, glm::length(glm::cross(pose.normal, wanted.value())))));
  }
  return tilts;
}

}  // namespace practice
