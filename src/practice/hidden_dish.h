// A dish to practise on: its errors are hidden, its spots come without names, and whoever turns
// its screws turns them a little wrong.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "align/facet_setup.h"
#include "base/result.h"
#include "dish/dish.h"
#include "naming/identify.h"
#include "naming/told_turns.h"

namespace practice {

/// Random numbers that depend on (seed, trial, purpose) and on nothing else.
class Draws {
 public:
  Draws(std::uint64_t seed, std::uint32_t trial, std::uint32_t purpose);
  double uniform();  ///< in (0, 1)
  double normal();
  bool chance(double p) { return uniform() < p; }
  std::size_t poisson(double mean);  ///< mean <= 20

 private:
  std::array<std::uint32_t, 3> key_;
  std::uint32_t counter_ = 0;
};

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

/// What a photograph of the board brings. Values are assumptions, common practice, no source.
struct Camera {
  double spot_sigma_m = 0.002;
  double missed = 0.01;             ///< chance that a spot is not found
  double false_spots = 0.1;         ///< in one photograph
  double hole_m = 0.04;             ///< of the mask on each facet
  double merged_below = 0.9;        ///< spots nearer than so many diameters run together
  double flux_sigma = 0.03;         ///< of a spot's light, relative
  double board_half_width_m = 0.0;  ///< spots beyond are lost; 0: a board large enough for all
};

/// The facets of a dish with all that holds them, in the dish's order. Points into the dish.
struct PracticeDish {
  const dish::Dish* dish = nullptr;
  std::vector<align::FacetSetup> setups;
};
base::Result<PracticeDish> practice_dish(const dish::Dish& dish);

/// What nobody at the dish can see.
struct Hidden {
  std::vector<std::array<double, 3>> displacement_m;       ///< from nominal
  std::vector<std::array<double, 3>> gain;                 ///< true rise per told rise
  std::vector<std::array<std::size_t, 3>> screw_of_label;  ///< where each label really is
};
Hidden hide(const PracticeDish& practice, const HiddenErrors& errors, Draws& draws);

/// Spots, and to whom each belongs: nobody, one facet, or several that ran together.
struct PracticePhoto {
  std::vector<naming::BoardSpot> spots;          ///< from left to right
  std::vector<std::vector<std::size_t>> owners;  ///< facets (indices into the dish)
};

/// Diameter of a masked facet's spot on a board `before_focus_m` in front of the focus: the hole's
/// shadow and the sun's disc, hole Delta/f + 9.3 mrad (f - Delta). Source: derived.
double spot_diameter_m(double focal_length_m, double before_focus_m, double hole_m);

/// Photograph of the board with these facets uncovered: exact chief rays, then noise, losses,
/// strangers and merging.
PracticePhoto observe(const PracticeDish& practice, const Hidden& hidden,
                      const align::Sighting& sighting, const std::vector<std::size_t>& uncovered,
                      const Camera& camera, double diameter_m, Draws& draws);

/// Turns the screws: gain, wrong labels, and the hands' own error.
void turn(const PracticeDish& practice, Hidden& hidden, const std::vector<naming::ToldTurns>& told,
          const naming::Hands& hands, Draws& draws);

/// Angle of each facet between its normal and the one that would send the light to its aim.
std::vector<double> tilts_left(const PracticeDish& practice, const Hidden& hidden);

}  // namespace practice
