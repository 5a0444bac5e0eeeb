// Searches for a better dish: aim points that flatten the flux, and sizes that bring most watts at
// a wanted concentration. Deterministic, with progress, and ended when nobody wants them any more.
#pragma once

#include <optional>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "base/vec.h"
#include "dish/dish.h"

namespace optics {

/// Figures of a dish before or after a search, by the noise-free evaluation.
struct SearchFigures {
  double receiver_W = 0.0;
  double plane_W = 0.0;
  double intercept_factor = 0.0;
  double most_flux_W_m2 = 0.0;  ///< greatest mean over one cell of the map on the receiver
  double peak_W_m2 = 0.0;       ///< as a trace tells it: over a disc a tenth as wide
  double mean_concentration = 0.0;
  double uniformity = 0.0;  ///< mean over greatest flux on the receiver, 0..1
};

// Aim points.

struct AimSettings {
  std::optional<double> limit_W_m2;  ///< flux nowhere above this; nothing: as flat as can be
  double most_loss = 0.01;           ///< share of the receiver's watts that may be given up, 0..0.5
  int map_cells = 48;                ///< 16..128, along the receiver's longer side
  int rounds = 3;                    ///< of moving the spots and evaluating them anew, 1..10
  base::Vec2 tracking_error_rad{0.0, 0.0};
};

struct AimResult {
  dish::Dish dish;                ///< with the new aims; nothing else changed
  std::vector<base::Vec2> aim_m;  ///< (right, up) of each facet
  std::size_t held = 0;           ///< facets with a normal of their own, which no aim moves
  double limit_W_m2 = 0.0;        ///< the one asked for, or the least that was reached
  bool is_within_limit = false;
  SearchFigures before, after;  ///< with the dish's own aims, and with the new ones
};

/// Moves the facets' aims over the receiver until its flux stays below the limit everywhere, giving
/// up as few watts as it can. Each facet's spot is taken from the evaluation and shifted; one facet
/// at a time takes the place that lowers (flux above the limit)^2 and light spilled most, until
/// none moves; then all spots are evaluated anew. Problems: a limit that is not positive or below
/// the mean flux; those of evaluate; "cancelled".
base::Result<AimResult> flatten_flux(const dish::Dish& dish, const AimSettings& settings,
                                     const base::Progress& progress = {});

// Sizes.

struct Between {
  double least = 0.0;
  double most = 0.0;
};

struct SizeSettings {
  double mean_concentration = 500.0;      ///< wanted, over the receiver's face
  std::optional<Between> focal_length_m;  ///< searched between these; nothing: kept
  std::optional<Between> magnification;   ///< of the secondary; nothing: kept
  std::optional<Between> receiver_m;  ///< width it may have; nothing: 0.1 % to 100 % of the dish
  base::Vec2 tracking_error_rad{0.0, 0.0};
  int map_cells = 96;
};

/// One design that was tried.
struct SizeTrial {
  double focal_length_m = 0.0;
  double magnification = 1.0;
  double receiver_m = 0.0;  ///< longer side or diameter
  double receiver_W = 0.0;
  double mean_concentration = 0.0;
  bool is_possible = false;  ///< it can be built and reaches the concentration
};

struct SizeResult {
  dish::Dish dish;  ///< resized
  SizeTrial best;
  SearchFigures before, after;
  std::vector<SizeTrial> trials;  ///< in the order tried
  bool is_at_bound = false;       ///< the best lies at an end of what was allowed
};

/// Focal length, magnification of the secondary and width of the receiver that bring most watts
/// with the wanted mean concentration: a scan and golden-section search in each, the receiver's
/// width solved for each design from its encircled light. The outer shape of the dish stays: facets
/// keep x and y, those on the parent paraboloid follow it, curved facets keep their ratio to the
/// focal length, and receiver and secondary go with the focus. Problems: no design can be built or
/// reaches the concentration; one above the thermodynamic limit; bounds the wrong way round;
/// "cancelled".
base::Result<SizeResult> size_dish(const dish::Dish& dish, const SizeSettings& settings,
                                   const base::Progress& progress = {});

/// The dish at another focal length, as size_dish understands it.
dish::Dish refocused(const dish::Dish& dish, double focal_length_m);

}  // namespace optics
