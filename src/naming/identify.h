// Which spot is which facet: spots without names, found in one photograph or several, to facets
// with odds, and a sentence for everything that is not sure.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/vec.h"
#include "dish/dish.h"
#include "naming/cells.h"

namespace naming {

/// A spot as a photograph shows it: nobody knows yet whose it is.
struct BoardSpot {
  base::Vec2 board_m{0.0, 0.0};  ///< (right, up)
  double sigma_m = 0.002;        ///< per axis, > 0
  double flux = 0.0;             ///< its light, any unit as long as it is one for all; 0: not known
  bool is_merged = false;        ///< whoever found it thinks that it is two
};

/// One photograph: the cells (indices) whose facets were uncovered, and what was seen.
struct BoardLook {
  std::vector<std::size_t> cells;
  std::vector<BoardSpot> spots;
};

struct IdentifySettings {
  double detection = 0.99;         ///< chance that an uncovered facet's spot is found at all
  double false_spots = 0.1;        ///< expected in one photograph, > 0
  double board_area_m2 = 0.2;      ///< > 0
  double spot_diameter_m = 0.023;  ///< parts of a merged spot lie about a quarter of it apart
  bool uses_flux = true;           ///< takes a spot of twice the light for two facets'
  bool fits_common_shift = true;   ///< see `fit_shift`
  double shift_range_m = 0.040;    ///< farthest common shift that is looked for, each way
  double most_rise = 9.2;          ///< odds above exp of this are told as exp of this
  double least_rise = 4.6;         ///< below: ambiguous (odds 100)
  double most_distance2 = 14.0;    ///< above: surprising (chance 0.001 for a Gaussian prior)
};

enum class Doubt {
  none,
  ambiguous,   ///< another facet could as well have this spot
  surprising,  ///< far from where it was expected
  merged,      ///< twice the light of one facet
  missing,     ///< no spot was left for this facet
};

/// What was found for one cell.
struct Finding {
  std::size_t cell = 0;
  std::size_t look = 0;
  std::size_t spot = 0;     ///< within the look; unused when missing
  double odds = 0.0;        ///< for this pair against the best way without it
  double distance2 = 0.0;   ///< squared Mahalanobis distance from the expected place
  double flux_share = 0.0;  ///< of what one facet should bring; 0: not known
  Doubt doubt = Doubt::none;
  std::string sentence;  ///< what to do about the doubt; empty without one
};

struct SpotOfLook {
  std::size_t look = 0;
  std::size_t spot = 0;
};

/// What all spots share, as seen from the sun; taken off the cells before they are assigned.
struct CommonShift {
  base::Vec2 shift_m{0.0, 0.0};
  double radial = 0.0;           ///< m per m of the facet's distance from the axis
  bool is_shifted_cell = false;  ///< the pattern fits about as well one cell further on
  std::string sentence;          ///< about the doubt; empty without one
};

struct Identification {
  std::vector<Finding> findings;        ///< one for each uncovered cell, look by look
  std::vector<SpotOfLook> false_spots;  ///< nobody's
  CommonShift common;
  double cost = 0.0;  ///< negative logarithm of the likelihood ratio; smaller fits better
};

/// Names of facets for the sentences; and the board's frame for the common shift.
struct IdentifyTarget {
  std::vector<Cell> cells;
  std::vector<std::string> names;  ///< one for each cell
  base::Pose dish_from_board;
};

base::Result<IdentifyTarget> target_of(const dish::Dish& dish, const align::Sighting& sighting,
                                       const std::vector<FacetPrior>& priors);

/// Assigns the spots of each look to its cells.
///
/// cost(cell, spot) = r^T S^-1 r / 2 + ln(2 pi sqrt|S|) - ln P_D + ln lambda, S as in `spread_of`;
/// a cell without a spot costs -ln(1 - P_D), a spot without a cell nothing; lambda = false spots
/// per area. A spot of about k facets' light may be given to k cells. Source: maximum-likelihood
/// association with misses and false alarms, as in multi-target tracking.
/// Problems: no looks, a cell uncovered twice in one look or not there, numbers that are no
/// numbers, settings out of range.
base::Result<Identification> identify(const IdentifyTarget& target,
                                      const std::vector<BoardLook>& looks,
                                      const IdentifySettings& settings);

/// The findings without doubt (or, on request, those that are doubted as well) as rows of a round,
/// one for each facet: of several photographs the one with the fewest facets uncovered counts, of
/// equal ones the last.
std::vector<dish::Spot> spots_of(const dish::Dish& dish, const IdentifyTarget& target,
                                 const std::vector<BoardLook>& looks, const Identification& found,
                                 bool with_doubtful);

/// "none", "ambiguous", "surprising", "merged", "missing".
const char* to_text(Doubt doubt);

}  // namespace naming
