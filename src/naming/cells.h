// Where each uncovered facet's spot is to be expected on a board, and how far it may stray.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "align/observe.h"
#include "base/result.h"
#include "dish/dish.h"

namespace naming {

/// Tilt scatter per axis after setting by caliper, of a raw dish, and after a round of turning.
/// Common practice, no source.
inline constexpr double k_caliper_tilt_rad = 0.003;
inline constexpr double k_raw_tilt_rad = 0.010;
inline constexpr double k_turned_tilt_rad = 0.0016;

/// What is known of a facet before the photograph.
struct FacetPrior {
  std::size_t facet = 0;                                ///< index into the dish
  double sigma_rad = k_caliper_tilt_rad;                ///< per axis, about where it should stand
  std::array<double, 3> displacement_m{0.0, 0.0, 0.0};  ///< of its screws, as far as is known
};

/// The place on the board where a facet's spot is expected.
struct Cell {
  std::size_t facet = 0;        ///< index into the dish
  base::Vec2 mark_m{0.0, 0.0};  ///< (right, up), exact chief ray
  /// Derivative of the mark by small tilts about the facet's own x and y (columns), m per rad.
  base::Mat2 mark_per_tilt{0.0};
  double sigma_rad = 0.0;        ///< prior per axis
  base::Vec2 place_m{0.0, 0.0};  ///< (x, y) of the facet's centre in the dish frame
  double brightness = 1.0;       ///< cosine of incidence: the light that equal holes let through
};

/// One cell for each prior, in their order, by central differences of the exact chain (1e-5 rad).
/// Problems name the facet: those of `align::set_up` and `align::expected_mark`.
base::Result<std::vector<Cell>> cells_of(const dish::Dish& dish, const align::Sighting& sighting,
                                         const std::vector<FacetPrior>& priors);

/// The prior of every facet by the log of rounds: `k_turned_tilt_rad` for a facet that was seen
/// and turned, or seen and left alone, in some logged round; else `start_rad`. A facet that stands
/// in a tilt array is expected there.
std::vector<FacetPrior> priors_of(const dish::Dish& dish, double start_rad);

/// Covariance of a spot about its cell: J J^T sigma^2 + sigma_spot^2 I.
base::Mat2 spread_of(const Cell& cell, double spot_sigma_m);

/// Largest spot shift for a tilt of one radian in any direction (the greater singular value of J).
double most_shift_per_tilt(const Cell& cell);

}  // namespace naming
