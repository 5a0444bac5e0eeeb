// What the coordinates of lanes of points mean: places on the facet and on the sun, small turns.
// Included by the kernel's own files only.
#pragma once

#include "optics/kernel_stop.h"

namespace optics {
namespace {

/// The low-discrepancy points of the lanes, moved on from group to group of them.
template <class R>
struct Points {
  std::uint32_t state[k_kernel_dimensions][R::count];

  LANES_INLINE explicit Points(const KernelPoints& from) {
    for (int d = 0; d < k_kernel_dimensions; ++d) {
      for (int lane = 0; lane < R::count; ++lane) state[d][lane] = from.state[d][lane];
    }
  }
  /// To be called before the group's points are used, never after: LLVM 14 for WebAssembly moves
  /// the load of a word that is used in all lanes below a later store to it.
  template <int First, int End>
  LANES_INLINE void go_to(const KernelPoints& from, unsigned group) {
    if (group == 0) return;
    const auto* steps = R::count == 1 ? from.step_alone : from.step;
    const std::uint32_t* step = steps[__builtin_ctz(group)];
    for (int d = First; d < End; ++d) {
      if constexpr (R::count == 1) {
        state[d][0] ^= step[d];
      } else {
        using Words = typename R::Words;
        auto* lanes = reinterpret_cast<std::int32_t*>(state[d]);
        const Words change = Words::all(static_cast<std::int32_t>(step[d]));
        base::store<float, R::count>(lanes, base::load<float, R::count>(lanes) ^ change);
      }
    }
  }
  /// The number in (0, 1): 23 bits and a half.
  LANES_INLINE R at(int d) const {
    if constexpr (sizeof(typename R::Scalar) == 8) {
      return R((static_cast<double>(state[d][0] & 0x7fffffu) + 0.5) * 0x1p-23);
    } else {
      const auto* lanes = reinterpret_cast<const std::int32_t*>(state[d]);
      return base::reals_of_bits(base::load<typename R::Scalar, R::count>(lanes)) -
             R(1.0f - 0x1p-24f);
    }
  }
};

template <class R>
struct Pair {
  R x, y;
};

/// Area-uniform points on the outline.
template <class R>
LANES_INLINE Pair<R> spread(const KernelOutline<typename R::Scalar>& edge, R x, R y) {
  using T = typename R::Scalar;
  using Outline = KernelOutline<T>;
  const T* c = edge.corner;
  if (edge.spread == Outline::rhombi) {
    // Three parallelograms from the middle over the corners (0, 1, 2), (2, 3, 4), (4, 5, 0).
    const R three = R(T(3)) * x;
    const auto is_first = three < R(T(1));
    const auto is_last = three >= R(T(2));
    const R a = three - select(is_first, R(T(0)), select(is_last, R(T(2)), R(T(1))));
    const auto pick = [&](T first, T second, T last) LANES_LAMBDA {
      return select(is_first, R(first), select(is_last, R(last), R(second)));
    };
    return {a * pick(c[0], c[4], c[8]) + y * pick(c[4], c[8], c[0]),
            a * pick(c[1], c[5], c[9]) + y * pick(c[5], c[9], c[1])};
  }
  if (edge.spread == Outline::parallelogram) {
    const T width[2] = {c[2] - c[0], c[3] - c[1]};
    const T height[2] = {c[6] - c[0], c[7] - c[1]};
    return {R(c[0]) + x * R(width[0]) + y * R(height[0]),
            R(c[1]) + x * R(width[1]) + y * R(height[1])};
  }
  if (edge.spread == Outline::arc) {
    const R radius = base::sqrt(R(edge.inner2) + x * R(edge.outer2 - edge.inner2));
    // The middle of the opening lies along +u.
    R turns = (y - R(T(0.5))) * R(edge.opening_turns);
    turns = select(turns < R(T(0)), turns + R(T(1)), turns);
    const auto angle = base::sincos_of_turns(turns);
    return {R(edge.centre[0]) + radius * angle.cos, R(edge.centre[1]) + radius * angle.sin};
  }
  // A triangle of the fan by its area; what is left of x is stretched over it.
  Pair<R> first{R(c[2] - c[0]), R(c[3] - c[1])};
  Pair<R> second{R(c[4] - c[0]), R(c[5] - c[1])};
  R before(T(0));
  R whole(edge.share[0]);
  for (int k = 1; k + 2 < edge.sides; ++k) {
    const auto is_past = x >= R(edge.share[k - 1]);
    before = select(is_past, R(edge.share[k - 1]), before);
    whole = select(is_past, R(edge.share[k] - edge.share[k - 1]), whole);
    const T* corner = c + 2 * k;
    first = {select(is_past, R(corner[2] - c[0]), first.x),
             select(is_past, R(corner[3] - c[1]), first.y)};
    second = {select(is_past, R(corner[4] - c[0]), second.x),
              select(is_past, R(corner[5] - c[1]), second.y)};
  }
  const R rest = greatest(least((x - before) / whole, R(T(1))), R(T(0)));
  const R root = base::sqrt(rest);
  const R b = root * y;
  const R a = root - b;
  return {R(c[0]) + a * first.x + b * second.x, R(c[1]) + a * first.y + b * second.y};
}

/// Distance from the sun's middle, as the sine of the angle.
template <class R>
LANES_INLINE R sun_radius(const KernelScene<typename R::Scalar>& scene, R x) {
  using T = typename R::Scalar;
  const R t = base::sqrt(x);
  if (scene.is_pillbox) return R(scene.disc_sine) * t;
  const auto is_disc = t < R(scene.split);
  R place = select(is_disc, t * R(scene.disc_steps), (t - R(scene.split)) * R(scene.aureole_steps));
  place = greatest(least(place, R(T(1023.99))), R(T(0)));
  const auto floor = base::truncated(place);
  typename R::Words::Int index[R::count];
  T low[R::count];
  T high[R::count];
  base::store<T, R::count>(index, floor);
  T is_tail[R::count];
  base::store<T, R::count>(is_tail, select(is_disc, R(T(0)), R(T(1))));
  for (int lane = 0; lane < R::count; ++lane) {
    const float* entry = scene.sun_table + index[lane] + (is_tail[lane] > T(0) ? 1025 : 0);
    low[lane] = T(entry[0]);
    high[lane] = T(entry[1]);
  }
  const R a = base::load<T, R::count>(low);
  return a + (place - base::to_reals(floor)) * (base::load<T, R::count>(high) - a);
}

/// Two independent Gaussian numbers (Box and Muller, Ann. Math. Stat. 29 (1958) 610).
template <class R>
LANES_INLINE Pair<R> gaussians(R x, R y, typename R::Scalar sigma) {
  using T = typename R::Scalar;
  const R radius = R(sigma) * base::sqrt(R(T(-2)) * base::log_positive(x));
  const auto angle = base::sincos_of_turns(y);
  return {radius * angle.cos, radius * angle.sin};
}

/// n + length (a ex + b ey) for a vector n of that length: ex and ey are what the smallest turn
/// from +z to n makes of x and y (optics/path.cpp has the same two axes).
template <class R>
LANES_INLINE Trio<R> turned(const Trio<R>& n, R length, const Pair<R>& by) {
  using T = typename R::Scalar;
  const R along = by.x * n.x + by.y * n.y;
  const R rest = R(T(1)) - along / greatest(length + n.z, R(T(1e-6)));
  return {length * by.x + n.x * rest, length * by.y + n.y * rest, n.z - along};
}

/// Rays that are drawn, then sent off, then followed, all before the next.
inline constexpr int k_kernel_stretch = 128;

/// What is drawn for a stretch of rays before any of them is followed. Each of the short loops
/// leaves the machine room to work on several groups of lanes at once.
template <class R>
class Drawn {
  using T = typename R::Scalar;
  static constexpr int N = R::count;

 public:
  static constexpr unsigned k_groups = k_kernel_stretch / N;

  LANES_INLINE Drawn(const KernelBatch<T>& batch) : points_(*batch.points) {}

  /// For the groups `from` to `end`, which follow those drawn before.
  template <bool HasSecondary>
  LANES_INLINE void draw(const KernelBatch<T>& batch, unsigned from, unsigned end) {
    const KernelScene<T>& scene = *batch.scene;
    const KernelFacet<T>& facet = *batch.facet;
    each<0, 2>(batch, from, end, [&](int at) LANES_LAMBDA {
      const Pair<R> uv = spread(*facet.outline, points_.at(0), points_.at(1));
      put(uv_, at, uv);
    });
    each<2, 4>(batch, from, end, [&](int at) LANES_LAMBDA {
      const R radius = sun_radius(scene, points_.at(2));
      const auto round = base::sincos_of_turns(points_.at(3));
      put(sun_, at, {radius * round.cos, radius * round.sin});
      base::store<T, N>(middle_ + at, base::sqrt(R(T(1)) - radius * radius));
    });
    turns<4>(batch, from, end, facet.slope);
    turns<6>(batch, from, end, facet.specularity);
    if constexpr (HasSecondary) {
      turns<8>(batch, from, end, scene.secondary_slope);
      turns<10>(batch, from, end, scene.secondary_specularity);
    }
  }

  /// Of the group that begins `at` rays after the stretch does.
  LANES_INLINE Pair<R> uv(int at) const { return got(uv_, at); }
  /// Across the sun's middle, right and up, and what is left along it: sines and cosine.
  LANES_INLINE Pair<R> sun(int at) const { return got(sun_, at); }
  LANES_INLINE R sun_middle(int at) const { return base::load<T, N>(middle_ + at); }
  /// Small turns that were drawn from the dimensions `First` and the next.
  template <int First>
  LANES_INLINE Pair<R> turn(int at) const {
    return got(turn_[(First - 4) / 2], at);
  }

 private:
  typedef T Both[2][k_kernel_stretch];

  static LANES_INLINE void put(Both& to, int at, const Pair<R>& pair) {
    base::store<T, N>(to[0] + at, pair.x);
    base::store<T, N>(to[1] + at, pair.y);
  }
  static LANES_INLINE Pair<R> got(const Both& from, int at) {
    return {base::load<T, N>(from[0] + at), base::load<T, N>(from[1] + at)};
  }
  template <int First, int End, class Draw>
  LANES_INLINE void each(const KernelBatch<T>& batch, unsigned from, unsigned end,
                         const Draw& draw_group) {
    for (unsigned group = from; group < end; ++group) {
      points_.template go_to<First, End>(*batch.points, group);
      draw_group(static_cast<int>(group - from) * N);
    }
  }
  template <int First>
  LANES_INLINE void turns(const KernelBatch<T>& batch, unsigned from, unsigned end, T sigma) {
    if (!(sigma > T(0))) return;
    each<First, First + 2>(batch, from, end, [&](int at) LANES_LAMBDA {
      put(turn_[(First - 4) / 2], at, gaussians(points_.at(First), points_.at(First + 1), sigma));
    });
  }

  Points<R> points_;
  Both uv_;
  Both sun_;
  T middle_[k_kernel_stretch];
  Both turn_[4];
};

}  // namespace
}  // namespace optics
