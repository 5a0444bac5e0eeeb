// What photographs of a board bring: the hidden dish's spots without names, a little off, some lost
// or run together, and some that are nobody's.
#pragma once

#include <cstddef>
#include <vector>

#include "align/observe.h"
#include "naming/identify.h"
#include "practice/draws.h"
#include "practice/hidden_dish.h"

namespace practice {

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

/// Spots, and to whom each belongs: nobody, one facet, or several that ran together.
struct Photo {
  std::vector<naming::BoardSpot> spots;          ///< from left to right
  std::vector<std::vector<std::size_t>> owners;  ///< facets (indices into the dish)
};

/// Diameter of a masked facet's spot on a board `before_focus_m` in front of the focus: the hole's
/// shadow and the sun's disc, hole Delta/f + 9.3 mrad (f - Delta). Source: derived.
double spot_diameter_m(double focal_length_m, double before_focus_m, double hole_m);

/// Photograph of the board with these facets uncovered: exact chief rays, then noise, losses,
/// strangers and merging.
Photo observe(const DishSetup& practice, const Hidden& hidden, const align::Sighting& sighting,
              const std::vector<std::size_t>& uncovered, const Camera& camera, double diameter_m,
              Draws& draws);

}  // namespace practice
