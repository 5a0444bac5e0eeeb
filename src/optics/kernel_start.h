// Where lanes of rays meet their facet. Included by the kernel's own files only.
#pragma once

#include "optics/kernel_draw.h"

namespace optics {
namespace {

/// A point of the facet's surface with the surface's unnormalised normal there.
template <class R>
struct Start {
  Trio<R> point;
  Trio<R> normal;
  R length;  ///< of the normal
};

/// At places on the facet, with the form errors (or none) of the rays from `first` on.
template <class R>
LANES_INLINE Start<R> start_at(const KernelFacet<typename R::Scalar>& facet,
                               const KernelOffsets<typename R::Scalar>* offsets, int first,
                               const Pair<R>& uv) {
  using T = typename R::Scalar;
  constexpr int N = R::count;
  const T* q = facet.quadric;
  const R zero(T(0));
  const R one(T(1));
  Start<R> start{{uv.x, uv.y, zero}, {zero, zero, one}, one};
  if (facet.is_axial) {
    const R c = R(q[0]) * (uv.x * uv.x + uv.y * uv.y);
    const R root = base::sqrt(one - R(q[2]) * c);
    start.point.z = c / (one + root);
    start.normal = {R(-q[0]) * uv.x, R(-q[0]) * uv.y, root};
  } else if (!facet.is_flat) {
    const R b = R(q[4]) * uv.x + R(q[5]) * uv.y - one;
    const R c = (R(q[0]) * uv.x + R(q[3] + q[3]) * uv.y) * uv.x + R(q[1]) * uv.y * uv.y;
    const R root = base::sqrt(b * b - R(q[2]) * c);
    const R w = c / (root - b);
    start.point.z = w;
    start.normal = {-(R(q[0]) * uv.x + R(q[3]) * uv.y + R(q[4]) * w),
                    -(R(q[3]) * uv.x + R(q[1]) * uv.y + R(q[5]) * w), root};
  }
  if (offsets != nullptr) {
    const R upright = start.normal.z;
    start.point.z = start.point.z + base::load<T, N>(offsets->height + first);
    start.normal.x = start.normal.x - upright * base::load<T, N>(offsets->slope_u + first);
    start.normal.y = start.normal.y - upright * base::load<T, N>(offsets->slope_v + first);
  }
  // A sphere's and a plane's come out with length one.
  if (!(facet.is_sphere || facet.is_flat) || offsets != nullptr) {
    start.length = base::sqrt(dot(start.normal, start.normal));
  }
  return start;
}

}  // namespace
}  // namespace optics
