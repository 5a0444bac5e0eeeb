// Facets of a round that were measured without light: which, with what, and whether that agrees
// with what else is known of them.
#pragma once

#include <cstddef>
#include <vector>

#include "align/correct.h"
#include "align/evidence.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

struct Gauged {
  std::size_t facet = 0;  ///< index into the dish
  Observation observation;
};

/// Readings of the inclinometer and heights gathered by facet, in the dish's order, the leans of a
/// facet before its heights. Readings of facets that the dish does not have are left out.
std::vector<Gauged> gauged_of(const dish::Dish& dish, const dish::Round& round);

/// What is wrong with a round's leans and heights: unknown facets, numbers that are none, sigmas
/// that are not above zero, leans without the dish's elevation.
base::Problems problems_of_gauged(const dish::Dish& dish, const dish::Round& round);

/// One correction out of several of the same facet: that of its spot, else the surest. When another
/// tells a tilt that differs by more than 4 sigma of both together, it is to be measured again;
/// heights are taken to be unsure by the lie of their bracket as well (5 mrad; common practice, no
/// source). `found` is not empty.
Correction reconciled(const std::vector<Correction>& found);

}  // namespace align
