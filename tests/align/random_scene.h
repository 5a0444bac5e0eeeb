// Seeded random facets in every construction: each kind of secondary, bracket, screw, light and
// board, with displacements whose third freedom is as the convention assumes.
#pragma once

#include <random>

#include "align/correct.h"
#include "dish/dish.h"

namespace align_test {

class Random {
 public:
  explicit Random(unsigned seed) : engine_(seed) {}
  double operator()(double least, double most) {
    return least + (most - least) * (static_cast<double>(engine_()) / 4294967296.0);
  }
  bool coin() { return (engine_() & 1u) != 0; }
  int pick(int count) { return static_cast<int>(engine_() % static_cast<unsigned>(count)); }

 private:
  std::mt19937 engine_;
};

enum class Way { prime, flat, hyperboloid, ellipsoid, sphere, paraboloid };
inline constexpr int k_ways = 6;

struct RandomScene {
  dish::Dish dish;    ///< one facet, screws at nominal
  dish::Round round;  ///< light and board, no spot yet
  Way way = Way::prime;
};

RandomScene random_scene(Random& random, Way way);

/// Displacements up to `most_m` that keep the foot's height, or the held screw where it is.
std::array<double, 3> random_displacement(Random& random, const dish::Dish& dish,
                                          const align::CorrectionRequest& request, double most_m);

}  // namespace align_test
