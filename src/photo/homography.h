// From a photograph of a flat board to places on the board: the projective map through marks.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "base/result.h"
#include "base/vec.h"

namespace photo {

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
/// smallest singular vector (by one-sided rotations, so that every machine gives the same bits),
/// then back. Exact through four marks, algebraic least squares beyond.
/// Source: Hartley, "In defense of the eight-point algorithm", IEEE Trans. PAMI 19 (1997) 580.
/// Problems: fewer than four marks, marks in a line or on one spot, marks whose order is mirrored
/// (numbered the wrong way round), a horizon that runs between the marks.
base::Result<Homography> homography_through(const std::vector<MarkPair>& marks);

/// The map through four pairs, from -> to, by way of the standard frame: no iteration, some ten
/// times quicker than the above. Nothing when three of either side lie in a line.
std::optional<base::Mat3> map_through_four(const std::array<base::Vec2, 4>& from,
                                           const std::array<base::Vec2, 4>& to);

/// A place under a projective map; nothing on its horizon or behind it (weight not above zero).
std::optional<base::Vec2> mapped(const base::Mat3& map, const base::Vec2& place);

/// A place in the image to its place on the board; nothing for a place on the board's horizon.
std::optional<base::Vec2> to_board(const Homography& homography, const base::Vec2& image_px);

}  // namespace photo
