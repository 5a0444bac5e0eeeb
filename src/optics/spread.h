// How widely light is spread on a plane: a symmetric 2 x 2 matrix of second moments.
#pragma once

#include <cmath>

#include "base/vec.h"

namespace optics {

/// m2.
struct Spread {
  double xx = 0.0, xy = 0.0, yy = 0.0;

  void add(const Spread& other) {
    xx += other.xx;
    xy += other.xy;
    yy += other.yy;
  }
  /// variance times v v'.
  void add_square(const base::Vec2& v, double variance = 1.0) {
    xx += variance * v.x * v.x;
    xy += variance * v.x * v.y;
    yy += variance * v.y * v.y;
  }
  [[nodiscard]] double trace() const { return xx + yy; }
  [[nodiscard]] double determinant() const { return xx * yy - xy * xy; }
  [[nodiscard]] double least() const {
    const double half = 0.5 * (xx - yy);
    return 0.5 * (xx + yy) - std::sqrt(half * half + xy * xy);
  }
  /// v' S v.
  [[nodiscard]] double along(const base::Vec2& v) const {
    return xx * v.x * v.x + 2.0 * xy * v.x * v.y + yy * v.y * v.y;
  }
};

}  // namespace optics
