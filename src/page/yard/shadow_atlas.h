// Shadows of all facets as one picture: a square of cells for each, row by row.
#pragma once

#include <cstdint>
#include <vector>

#include "optics/shadows.h"

namespace yard {

struct ShadowAtlas {
  int columns = 0;  ///< squares in a row; 0: nothing to show
  int rows = 0;
  int side = 0;                     ///< cells along a square
  std::vector<std::uint8_t> bytes;  ///< RGBA; red: share of the light that passes

  [[nodiscard]] int width() const { return columns * side; }
  [[nodiscard]] int height() const { return rows * side; }
};

ShadowAtlas shadow_atlas(const optics::Shadows& shadows);

}  // namespace yard
