// Middle and size of a spot of light by its moments.
#pragma once

#include <vector>

#include "photo/board_view.h"

namespace photo {

/// Second moments about the middle; lengths in any one unit.
struct Moments {
  base::Vec2 middle{0.0, 0.0};
  double xx = 0.0;
  double yy = 0.0;
  double xy = 0.0;
  double sum = 0.0;       ///< of light over the cells
  double leverage = 0.0;  ///< sum over cells of half the squared distance from the middle
  bool settled = false;
};

/// Principal beam widths, D4sigma: 4 sigma of a Gaussian, the diameter of a uniform disc.
struct Widths {
  double longer = 0.0;
  double shorter = 0.0;
  base::Vec2 longer_axis{1.0, 0.0};  ///< unit vector, x >= 0
  [[nodiscard]] bool is_round() const { return shorter > 0.87 * longer; }
};

/// d = 2 sqrt 2 ((xx + yy) +- ((xx - yy)^2 + 4 xy^2)^(1/2))^(1/2); the longer axis lies at half the
/// angle of (xx - yy, 2 xy). Moments below zero count as zero.
/// Source: ISO 11146-1:2005, beam widths and orientation; circular above a ratio of 0.87.
Widths widths_of(double xx, double yy, double xy);

/// Moments of the light around `start` within a window three times as wide as the spot along its
/// own axes, found by repeating (ISO 11146-1; the 3 x rule is from memory), and no nearer to one
/// of `others` than to the spot. The level of what surrounds the spot, beyond 4.5 sigma in the
/// window, is taken off (cells more than 5 `noise` from it do not count); where fewer than 60
/// cells are left there, nothing is. Printed cells do not count at all. `start_width`: a first
/// guess. All in cells of the view. Noise can keep the window moving to and fro: then the mean of
/// the last 16 of 40 rounds is given if their sizes stay within 15 %. Not settled: no light, or a
/// width that runs away or wanders.
Moments moments_around(const BoardView& view, const base::Vec2& start, double start_width,
                       const std::vector<base::Vec2>& others, double noise);

}  // namespace photo
