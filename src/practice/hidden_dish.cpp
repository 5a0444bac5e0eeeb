// Hidden errors, and turns that change them.
#include "practice/hidden_dish.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "align/solve.h"
#include "base/check.h"
#include "base/elementary.h"

namespace practice {
namespace {

using base::Vec2;

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

}  // namespace

double prior_of(const HiddenErrors& errors) {
  if (!errors.between_rad) return errors.tilt_rad;
  // Mean square of a uniform size, shared by two axes.
  const auto [least, most] = *errors.between_rad;
  return std::sqrt((least * least + least * most + most * most) / 6.0);
}

base::Result<DishSetup> set_up(const dish::Dish& dish) {
  DishSetup practice{.dish = &dish};
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

Hidden hide(const DishSetup& practice, const HiddenErrors& errors, Draws& draws) {
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

void turn(const DishSetup& practice, Hidden& hidden, const std::vector<naming::ToldTurns>& told,
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

std::vector<double> tilts_left(const DishSetup& practice, const Hidden& hidden) {
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
