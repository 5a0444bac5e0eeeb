// What one stage of the trace's inner loop hands to the next: light on its way from a facet.
// Included by the kernel's own files only.
#pragma once

#include "optics/kernel_draw.h"

namespace optics {
namespace {

/// Rays that have left the facet, and their light: none of what was shaded.
template <class R>
class Left {
  using T = typename R::Scalar;
  static constexpr int N = R::count;

 public:
  LANES_INLINE void put(int at, const Ray<R>& ray, R weight) {
    const R parts[7] = {ray.point.x, ray.point.y, ray.point.z, ray.way.x,
                        ray.way.y,   ray.way.z,   weight};
    for (int k = 0; k < 7; ++k) base::store<T, N>(part_[k] + at, parts[k]);
  }
  LANES_INLINE Ray<R> ray(int at) const {
    return {{part(0, at), part(1, at), part(2, at)}, {part(3, at), part(4, at), part(5, at)}};
  }
  LANES_INLINE R weight(int at) const { return part(6, at); }

 private:
  LANES_INLINE R part(int k, int at) const { return base::load<T, N>(part_[k] + at); }

  T part_[7][k_kernel_stretch];
};

}  // namespace
}  // namespace optics
