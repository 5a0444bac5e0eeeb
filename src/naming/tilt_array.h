// Tilts commanded on purpose, so that every spot has a place of its own at the focus.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "align/facet_setup.h"
#include "align/observe.h"
#include "base/result.h"
#include "dish/dish.h"

namespace naming {

/// Whole clicks that send one facet's spot to its cell, counted from nominal.
struct ArrayTurns {
  std::size_t facet = 0;
  base::Vec2 cell_m{0.0, 0.0};             ///< wished, (right, up)
  std::array<int, 3> clicks{};             ///< clockwise +
  std::array<double, 3> displacement_m{};  ///< what the clicks do if the screws are exact
  int clicks_per_turn = 12;
  bool in_reach = true;  ///< the screws can hold it
};

/// Cells as a map of the dish, `pitch_m` for the least distance between facets, each spot on
/// its facet's own side. The screws turn as few turns as they can
/// (the middle one stays). Problems: those of `align::set_up` and `align::normal_from_spot`.
base::Result<std::vector<ArrayTurns>> tilt_array(const dish::Dish& dish,
                                                 const align::Sighting& sighting, double pitch_m);

/// Name of the round that tells such turns; the array is known by it.
std::string spread_round_name(const dish::Dish& dish);
bool is_spread_round(const dish::Round& round);

/// Whether the last turns that the log has of each facet are those of an array.
std::vector<bool> stand_spread(const dish::Dish& dish);

}  // namespace naming
