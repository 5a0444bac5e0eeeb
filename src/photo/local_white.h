// How bright white is, place by place, under uneven light.
#pragma once

#include <cstdint>
#include <vector>

namespace photo {

/// A view of the picture in square windows that overlap.
struct WhiteScale {
  int tile_px = 32;  ///< windows stand this far apart
  int reach = 4;     ///< and hold 2 reach + 1 tiles on a side
  int percent = 70;  ///< white is the code that this share of a window stays below
};

/// Dark pixels: those whose light is below 55 % of the white of their surroundings (whose code is
/// below 74 % of it). Between the windows' middles white is interpolated; whole numbers throughout.
/// `codes` are those of root_code(). Each not zero where dark.
std::vector<std::uint8_t> dark_pixels(const std::vector<std::uint8_t>& codes, int width, int height,
                                      const WhiteScale& scale);

}  // namespace photo
