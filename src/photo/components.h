// Connected pieces of a picture in two tones, dark and light, and which piece surrounds which.
#pragma once

#include <cstdint>
#include <vector>

namespace photo {

/// Sums over the middles of pixels (whole numbers; the half pixel is added by whoever asks).
struct PixelSums {
  std::int64_t count = 0;
  std::int64_t x = 0;
  std::int64_t y = 0;
  std::int64_t xx = 0;
  std::int64_t yy = 0;
  std::int64_t xy = 0;

  void add(const PixelSums& other);
};

struct Component {
  bool dark = false;
  int parent = -1;  ///< the piece around it; -1 for pieces that reach the picture's edge
  PixelSums own;
  PixelSums filled;  ///< with everything it surrounds
  int left = 0;
  int right = 0;  ///< last column, included
  int top = 0;
  int bottom = 0;
};

/// Pixels [first, end) of a row that belong to one piece.
struct Run {
  int y = 0;
  int first = 0;
  int end = 0;
  int component = 0;
};

struct Components {
  std::vector<Component> all;  ///< in the order of their first pixels; parents before children
  std::vector<Run> runs;       ///< row by row, from left to right
};

/// Dark pieces hold together across corners, light ones do not, so that surrounding is a tree.
/// `dark` holds a row's pixels after the other, not zero where dark.
/// Source: Rosenfeld, "Adjacency in digital pictures", Information and Control 26 (1974) 24.
Components components_of(const std::vector<std::uint8_t>& dark, int width, int height);

}  // namespace photo
