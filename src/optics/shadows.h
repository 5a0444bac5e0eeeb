// What stands in the light, facet by facet: where on the glass the sun is hidden or the reflected
// light is stopped, and by what.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "optics/scene.h"

namespace optics {

/// Something that stops light, and how much of the sunlight on the facets it takes. Where several
/// stand behind each other, the one that the light meets first has it.
struct Culprit {
  enum class Kind { receiver, secondary, blocker, facet } kind = Kind::facet;
  std::size_t index = 0;   ///< of the blocker in the dish, or of the facet; else 0
  double shaded_W = 0.0;   ///< on the way to a facet
  double blocked_W = 0.0;  ///< on the way from a facet, counted before the mirrors' absorption
};

struct Shadows {
  int side = 0;  ///< cells along each side of a facet's square
  /// For each facet side * side cells over its bounding square (u right, v up, row 0 at the least
  /// v): share of the light that neither way stops, 0..1. Empty where nothing stands in the light.
  std::vector<std::vector<float>> clear;
  std::vector<Culprit> culprits;  ///< the greatest first; none that takes nothing
};

/// Looks along about `rays` rays in all: a few points of the sun's disc for each cell, with perfect
/// mirrors. Deterministic.
Shadows find_shadows(const Scene& scene, int rays = 40'000);

}  // namespace optics
