// Seeded random facets in every construction: each kind of secondary, bracket, screw, light and
// board, with displacements whose third freedom is as the convention assumes.
#pragma once

#include <array>

#include "align/correct.h"
#include "dish/dish.h"
#include "support/seeded.h"

namespace align_test {

enum class Way { prime, flat, hyperboloid, ellipsoid, sphere, paraboloid };
inline constexpr int k_ways = 6;

struct RandomScene {
  dish::Dish dish;    ///< one facet, screws at nominal
  dish::Round round;  ///< light and board, no spot yet
  Way way = Way::prime;
};

RandomScene random_scene(support::Seeded& random, Way way);

/// Displacements up to `most_m` that keep the foot's height, or the held screw where it is.
std::array<double, 3> random_displacement(support::Seeded& random, const dish::Dish& dish,
                                          const align::CorrectionRequest& request, double most_m);

}  // namespace align_test
