// A dish to practise on: its errors are hidden, and whoever turns its screws turns them a little
// wrong.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "align/facet_setup.h"
#include "base/result.h"
#include "dish/dish.h"
#include "naming/told_turns.h"
#include "practice/draws.h"

namespace practice {

/// How wrong the hidden dish stands and how wrong its screws answer.
struct HiddenErrors {
  double tilt_rad = 0.003;  ///< per axis, Gaussian
  /// Instead: tilts of this size, uniform between two, in any direction.
  std::optional<std::array<double, 2>> between_rad;
  double gain = 0.03;            ///< of each screw's travel per turn, standard deviation
  double swapped_labels = 0.0;   ///< chance for each facet that two of its labels are swapped
  base::Vec2 sun_rad{0.0, 0.0};  ///< pointing error nobody knows of
  double board_off_m = 0.0;      ///< board this much farther from the facets than is thought
};

/// Tilt scatter per axis that the errors amount to: what the first photograph is read with.
double prior_of(const HiddenErrors& errors);

/// The facets of a dish with all that holds them, in the dish's order. Points into the dish.
struct DishSetup {
  const dish::Dish* dish = nullptr;
  std::vector<align::FacetSetup> setups;
};
base::Result<DishSetup> set_up(const dish::Dish& dish);

/// What nobody at the dish can see.
struct Hidden {
  std::vector<std::array<double, 3>> displacement_m;       ///< from nominal
  std::vector<std::array<double, 3>> gain;                 ///< true rise per told rise
  std::vector<std::array<std::size_t, 3>> screw_of_label;  ///< where each label really is
};
Hidden hide(const DishSetup& practice, const HiddenErrors& errors, Draws& draws);

/// Turns the screws: gain, wrong labels, and the hands' own error.
void turn(const DishSetup& practice, Hidden& hidden, const std::vector<naming::ToldTurns>& told,
          const naming::Hands& hands, Draws& draws);

/// Angle of each facet between its normal and the one that would send the light to its aim.
std::vector<double> tilts_left(const DishSetup& practice, const Hidden& hidden);

}  // namespace practice
