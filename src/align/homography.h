// From a photograph of a flat board to places on the board: the projective map through marks.
#pragma once

#include <optional>
#include <vector>

#include "base/result.h"
#include "base/vec.h"

namespace align {

/// A mark as found in the image (pixels, right and down) and as it is on the board (m, right, up).
struct MarkPair {
  base::Vec2 image_px{0.0, 0.0};
  base::Vec2 board_m{0.0, 0.0};
};

/// board ~ H (image, 1), scaled so that the last element is 1. Columns as everywhere.
struct Homography {
  base::Mat3 board_from_image{1.0};
};

/// Normalised direct linear transform: both point sets moved to mean 0 and mean distance sqrt 2,
/// smallest singular vector, then back. Exact through four marks, algebraic least squares beyond.
/// Source: Hartley, "In defense of the eight-point algorithm", IEEE Trans. PAMI 19 (1997) 580.
/// Problems: fewer than four marks, marks in a line or on one spot, marks whose order is mirrored
/// (numbered the wrong way round), a horizon that runs between the marks.
base::Result<Homography> homography_through(const std::vector<MarkPair>& marks);

/// A place in the image to its place on the board; nothing for a place on the board's horizon.
std::optional<base::Vec2> to_board(const Homography& homography, const base::Vec2& image_px);

}  // namespace align
