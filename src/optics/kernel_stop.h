// Lanes of rays against what can stop them. Included by the kernel's own files only.
#pragma once

#include "base/lane_functions.h"
#include "base/lanes.h"
#include "optics/kernel.h"

namespace optics {
namespace {

using base::any;
using base::greatest;
using base::least;
using base::select;

/// Three coordinates of as many points as there are lanes.
template <class R>
struct Trio {
  R x, y, z;
};
template <class R>
LANES_INLINE R dot(const Trio<R>& a, const Trio<R>& b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
template <class R>
LANES_INLINE R dot(const typename R::Scalar* row, const Trio<R>& p) {
  return R(row[0]) * p.x + R(row[1]) * p.y + R(row[2]) * p.z;
}
template <class R>
LANES_INLINE Trio<R> along(const Trio<R>& p, R t, const Trio<R>& d) {
  return {p.x + t * d.x, p.y + t * d.y, p.z + t * d.z};
}

template <class R>
struct Ray {
  Trio<R> point;
  Trio<R> way;  ///< about of length one
};

/// A ray leaves its own surface before it can meet another, and ends just short of its target.
/// Single precision at some metres is good to half a micrometre.
inline constexpr double k_kernel_start_m = 1e-6;
inline constexpr double k_kernel_short = 1.0 - 1e-6;
inline constexpr double k_kernel_far_m = 1e9;

/// S x for a quadric.
template <class R>
LANES_INLINE Trio<R> times(const typename R::Scalar* q, const Trio<R>& p) {
  if (q[3] == 0 && q[4] == 0 && q[5] == 0) {
    return {R(q[0]) * p.x, R(q[1]) * p.y, R(q[2]) * p.z};
  }
  return {R(q[0]) * p.x + R(q[3]) * p.y + R(q[4]) * p.z,
          R(q[3]) * p.x + R(q[1]) * p.y + R(q[5]) * p.z,
          R(q[4]) * p.x + R(q[5]) * p.y + R(q[2]) * p.z};
}

/// Which of the points, near enough to ask, lie within the outline.
template <class R>
LANES_INLINE typename R::Truth within(const KernelOutline<typename R::Scalar>& edge, R u, R v,
                                      typename R::Truth asked) {
  using T = typename R::Scalar;
  const R r2 = u * u + v * v;
  auto inside = asked & (r2 <= R(edge.bounding2));
  const auto unsure = inside & (r2 >= R(edge.surely2));
  if (!any(unsure)) return inside;
  if (edge.kind == KernelOutline<T>::polygon) {
    for (int k = 0; k < edge.sides; ++k) {
      const T* side = edge.side + 3 * k;
      inside = inside & (R(side[0]) * u + R(side[1]) * v <= R(side[2]));
    }
    return inside;
  }
  const R x = u - R(edge.centre[0]);
  const R y = v - R(edge.centre[1]);
  const R from_arc = x * x + y * y;
  inside = inside & (from_arc <= R(edge.outer2)) & (from_arc >= R(edge.inner2));
  if (edge.opening_turns >= T(1)) return inside;
  return inside & (R(edge.opening_side[0]) * base::magnitude(y) <= R(edge.opening_side[1]) * x);
}

/// Meets with a quadric within an outline. Of the two meets q = -(b + sign(b) sqrt(b2 - a c)) gives
/// c / q and q / a, without a difference of near-equal numbers (optics/quadric.h).
template <class R>
LANES_INLINE typename R::Truth stops_mirror(const KernelStopper<typename R::Scalar>& s,
                                            const Ray<R>& ray, R reach, R most,
                                            typename R::Truth asked) {
  using T = typename R::Scalar;
  const Trio<R> o{dot(s.row[0], ray.point) + R(s.origin[0]),
                  dot(s.row[1], ray.point) + R(s.origin[1]),
                  dot(s.row[2], ray.point) + R(s.origin[2])};
  const Trio<R> d{dot(s.row[0], ray.way), dot(s.row[1], ray.way), dot(s.row[2], ray.way)};
  const Trio<R> so = times(s.quadric, o);
  const Trio<R> sd = times(s.quadric, d);
  const R a = dot(d, sd);
  const R b = dot(o, sd) - d.z;
  const R c = dot(o, so) - (o.z + o.z);
  const R discriminant = b * b - a * c;
  asked = asked & (discriminant >= R(T(0)));
  if (!any(asked)) return asked;
  const R root = base::sqrt(greatest(discriminant, R(T(0))));
  const R q = select(b >= R(T(0)), -(b + root), root - b);
  const auto is_met = [&](R t, typename R::Truth wanted) LANES_LAMBDA {
    wanted = wanted & (t > R(T(k_kernel_start_m))) & (t < most) & (so.z + t * sd.z < R(T(1)));
    if (!any(wanted)) return wanted;
    return within(*s.outline, o.x + t * d.x, o.y + t * d.y, wanted);
  };
  auto stopped = is_met(c / q, asked);
  // The other meet is far beyond the bounds for all but grazing rays.
  const auto grazing = asked & (base::magnitude(q) <= base::magnitude(a) * reach);
  if (any(grazing)) stopped = stopped | is_met(q / a, grazing);
  return stopped;
}

template <class R>
LANES_INLINE typename R::Truth stops_plate(const KernelStopper<typename R::Scalar>& s,
                                           const Ray<R>& ray, R most, typename R::Truth asked) {
  using T = typename R::Scalar;
  const R t = -(dot(s.row[2], ray.point) + R(s.origin[2])) / dot(s.row[2], ray.way);
  asked = asked & (t > R(T(k_kernel_start_m))) & (t < most);
  if (!any(asked)) return asked;
  const Trio<R> hit = along(ray.point, t, ray.way);
  const R x = dot(s.row[0], hit) + R(s.origin[0]);
  const R y = dot(s.row[1], hit) + R(s.origin[1]);
  if (s.kind == KernelStopper<T>::round_plate) {
    return asked & (x * x + y * y <= R(s.half[0] * s.half[0]));
  }
  return asked & (base::magnitude(x) <= R(s.half[0])) & (base::magnitude(y) <= R(s.half[1]));
}

/// Narrows a stretch of the ray to where low <= origin + t way <= high. A way of zero divides to
/// infinities of the right signs.
template <class R>
struct Stretch {
  R from, to;
  LANES_INLINE void clip(R origin, R way, R low, R high) {
    const R a = (low - origin) / way;
    const R b = (high - origin) / way;
    from = greatest(least(a, b), from);
    to = least(greatest(a, b), to);
  }
};

template <class R>
LANES_INLINE typename R::Truth stops_solid(const KernelStopper<typename R::Scalar>& s,
                                           const Ray<R>& ray, R most, typename R::Truth asked) {
  using T = typename R::Scalar;
  Stretch<R> stretch{R(T(k_kernel_start_m)), most};
  const Trio<R> o{dot(s.row[0], ray.point) + R(s.origin[0]),
                  dot(s.row[1], ray.point) + R(s.origin[1]),
                  dot(s.row[2], ray.point) + R(s.origin[2])};
  const Trio<R> d{dot(s.row[0], ray.way), dot(s.row[1], ray.way), dot(s.row[2], ray.way)};
  if (s.kind == KernelStopper<T>::box) {
    stretch.clip(o.x, d.x, R(-s.half[0]), R(s.half[0]));
    stretch.clip(o.y, d.y, R(-s.half[1]), R(s.half[1]));
    stretch.clip(o.z, d.z, R(-s.half[2]), R(s.half[2]));
    return asked & (stretch.from <= stretch.to);
  }
  // A thin tube far away: its distance from the ray as a cross product keeps the digits that the
  // textbook's b2 - a c would lose.
  stretch.clip(o.z, d.z, R(T(0)), R(s.half[1]));
  const R a = d.x * d.x + d.y * d.y;
  const R b = o.x * d.x + o.y * d.y;
  const R cross = o.x * d.y - o.y * d.x;
  const R radius2(s.half[0] * s.half[0]);
  const R discriminant = a * radius2 - cross * cross;
  const R root = base::sqrt(greatest(discriminant, R(T(0))));
  const R from = greatest((-b - root) / a, stretch.from);
  const R to = least((root - b) / a, stretch.to);
  const auto is_along = a <= R(T(0));
  const auto is_in_core = o.x * o.x + o.y * o.y <= radius2;
  const auto crossed = (discriminant >= R(T(0))) & (from <= to);
  return asked & (stretch.from <= stretch.to) & ((is_along & is_in_core) | (~is_along & crossed));
}

/// Which rays one of the list stops before `most`, of those asked for.
template <class R>
LANES_INLINE typename R::Truth stopped_by_any(const KernelStopper<typename R::Scalar>* list,
                                              int count, const Ray<R>& ray, R most,
                                              typename R::Truth asked) {
  using T = typename R::Scalar;
  auto stopped = asked & ~asked;
  const R square = dot(ray.way, ray.way);
  for (int k = 0; k < count; ++k) {
    const KernelStopper<T>& s = list[k];
    // Past its sphere, at or after the start?
    const Trio<R> to{R(s.bounds[0]) - ray.point.x, R(s.bounds[1]) - ray.point.y,
                     R(s.bounds[2]) - ray.point.z};
    const R forward = dot(to, ray.way);
    const R distance2 = dot(to, to);
    const R radius2(s.bounds[3]);
    auto meets = asked & (distance2 * square - forward * forward <= radius2 * square) &
                 ((forward >= R(T(0))) | (distance2 <= radius2));
    if (!any(meets)) continue;
    if (s.kind == KernelStopper<T>::mirror) {
      meets = stops_mirror(s, ray, R(T(2)) * (base::magnitude(forward) + R(s.radius)), most, meets);
    } else if (s.kind == KernelStopper<T>::box || s.kind == KernelStopper<T>::tube) {
      meets = stops_solid(s, ray, most, meets);
    } else {
      meets = stops_plate(s, ray, most, meets);
    }
    stopped = stopped | meets;
  }
  return stopped;
}

}  // namespace
}  // namespace optics
