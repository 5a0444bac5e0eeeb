// Ways to see all spots at once, what limits them on a given dish, and which one to take.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "naming/cells.h"

namespace naming {

enum class Scheme {
  one_by_one,  ///< one facet uncovered at a time, the board where the light comes together
  defocus,     ///< all at once (or in groups) on a board inside the focus, each facet masked
  tilt_array,  ///< facets tilted on purpose so that each spot has a place of its own at the focus
  look_back,   ///< no sun: a camera far away looks at a patterned board in the facets
};

struct SchemeSettings {
  double hole_m = 0.04;        ///< of the mask on each facet
  double capture_rad = 0.020;  ///< tilts up to here must still land on the board
  double spot_sigma_m = 0.002;
  double wanted_chance = 0.9;  ///< that no two neighbours swap
};

/// A board inside the focus, square to the axis, and what decides its size.
struct DefocusBoard {
  double before_focus_m = 0.0;  ///< Delta
  double array_radius_m = 0.0;  ///< of the outermost expected spot
  double capture_m = 0.0;       ///< farthest that a tilt of `capture_rad` moves a spot
  double half_width_m = 0.0;    ///< needed: both together
  /// Greatest half width that leaves the inner ring its light: r_inner - hole / 2 - 4.65 mrad
  /// (f - Delta); below zero when a facet sits on the axis.
  double shadow_limit_m = 0.0;
  std::size_t shaded = 0;  ///< facets in the shadow of a board of the half width needed
};

/// Board at a place before the focus; a secondary is taken off.
/// Problems: those of `cells_of`.
base::Result<DefocusBoard> defocus_board(const dish::Dish& dish, double before_focus_m,
                                         const SchemeSettings& settings);

/// The board as far before the focus as it may be without shading the inner ring, in steps of a
/// hundredth of the focal length between 0.05 and 0.5 of it; 0.2 of it when every place shades
/// something, because then the inner facets have to be looked at on their own anyway.
base::Result<DefocusBoard> largest_defocus(const dish::Dish& dish, const SchemeSettings& settings);

/// The board's place as a round has it.
dish::Board board_before_focus(const dish::Dish& dish, double before_focus_m);
align::Sighting defocus_sighting(const dish::Dish& dish, double before_focus_m);

struct SchemeAdvice {
  Scheme scheme = Scheme::defocus;
  DefocusBoard board;
  std::size_t groups = 1;  ///< photographs with other facets uncovered
  std::size_t photos = 1;  ///< in the first round, without checks
  double chance = 1.0;     ///< that no two neighbours swap
  std::string reason;      ///< sentences
};

/// Scheme, board and number of photographs for a dish whose facets stand `prior_rad` off per axis.
/// Few facets (up to `k_few_facets`) are quickest one by one. Otherwise the board inside the focus
/// with the least number of groups for which neighbours do not swap.
inline constexpr std::size_t k_few_facets = 7;
base::Result<SchemeAdvice> advise(const dish::Dish& dish, double prior_rad,
                                  const SchemeSettings& settings);

/// "one-by-one", "defocus", "tilt-array", "look-back".
const char* to_text(Scheme scheme);

}  // namespace naming
