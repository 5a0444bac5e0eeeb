// One blob of light, or several spots that touch.
#pragma once

#include <vector>

#include "base/vec.h"
#include "photo/components.h"

namespace photo {

/// A connected piece of light in a grid of so many columns: its runs and the light there.
struct Blob {
  std::vector<Run> runs;
  const std::vector<float>* light = nullptr;  ///< of the whole grid, smoothed, median taken off
  int columns = 0;
  int left = 0;
  int right = 0;
  int top = 0;
  int bottom = 0;
  double area = 0.0;
};

/// A part of a blob: its middle and how many cells are nearest to it.
struct BlobPart {
  base::Vec2 middle{0.0, 0.0};
  double area = 0.0;
};

struct SplitRules {
  double spot_cells = 0.0;  ///< expected diameter
  double noise = 0.0;       ///< standard deviation of the light
  bool by_area = false;     ///< a saturated blob: cells weigh the same
};

/// Peaks that stand apart when the blob is cut at 30 to 90 % of its own peak, and middles of width
/// (maxima of the distance from its edge above 0.3 expected diameters, with a waist between);
/// whichever are more. Then ten passes give every cell to the nearest part and move the parts to
/// their cells' mean place. Two parts nearer than 0.4 expected diameters are one; a peak counts
/// when it rises above the cut by 5 % of the blob's and four times the noise.
std::vector<BlobPart> parts_of(const Blob& blob, const SplitRules& rules);

}  // namespace photo
