// The table of costs of one look, as identification and the fit of the common shift both need it.
#pragma once

#include <vector>

#include "base/assignment.h"
#include "naming/identify.h"

namespace naming {

/// What is wrong with looks and settings: see `identify`.
base::Problems problems_of_looks(const IdentifyTarget& target, const std::vector<BoardLook>& looks,
                                 const IdentifySettings& settings);

/// Columns of a look's table: spots, those of several facets' light more than once.
struct LookColumns {
  std::vector<std::size_t> spot_of;  ///< of each column
  std::vector<double> share_of;      ///< of each spot: light, in facets; 0: not known
  std::vector<std::size_t> copies;   ///< of each spot: how many facets it may serve
};

/// Light of a spot relative to what one facet should bring, by the median of the look.
LookColumns columns_of(const BoardLook& look, const IdentifySettings& settings);

/// Squared Mahalanobis distance and ln(2 pi sqrt|S|) of a spot from a cell, the spot's sigma
/// widened by how far its parts may lie from its middle (0 for a spot of one facet).
struct Misfit {
  double distance2 = 0.0;
  double log_norm = 0.0;
};
Misfit misfit(const Cell& cell, const BoardSpot& spot, double parts_m);

base::CostTable costs_of(const std::vector<Cell>& cells, const BoardLook& look,
                         const LookColumns& columns, const IdentifySettings& settings);

/// Shifts the cells by what all spots share and says how sure that is.
///
/// A grid of shifts (8 mm) is scored by the sum over the spots of the distance to the nearest
/// cell, at most 15 mm each; from each of the best few, four times: assign, fit shift and radial to
/// the pairs by Tukey's estimator, move the cells. The least cost of them all is taken. It is in
/// doubt when another fit, at least half a cell away, costs less than `least_rise` more, or when
/// it leaves at least three cells empty while as many spots belong to nobody.
CommonShift fit_shift(const IdentifyTarget& target, const std::vector<BoardLook>& looks,
                      const IdentifySettings& settings, std::vector<Cell>& cells);

}  // namespace naming
