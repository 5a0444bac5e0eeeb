// The inner loop of the trace: lanes of rays from the sun over one facet to where they end.
// Included by the kernel's own files only, each of which compiles it for other registers.
#pragma once

#include "optics/kernel_draw.h"
#include "optics/kernel_left.h"
#include "optics/kernel_start.h"

namespace optics {
namespace {

/// Whole units of light, so that the order of adding is free. A lane of 4 or more adds up at most
/// 256 rays of less than 2^23 units; a single one needs more room.
template <class R>
struct Tally {
  typename R::Words sum = R::Words::all(0);
  LANES_INLINE void add(typename R::Words units) { sum = sum + units; }
  LANES_INLINE std::int64_t total() const { return base::total(sum); }
};
template <>
struct Tally<base::Reals<float, 1>> {
  std::int64_t sum = 0;
  LANES_INLINE void add(base::Ints<float, 1> units) { sum += units.v; }
  LANES_INLINE std::int64_t total() const { return sum; }
};

template <class R, bool HasSecondary>
class Follower {
  using T = typename R::Scalar;
  using Truth = typename R::Truth;
  using Words = typename R::Words;
  static constexpr int N = R::count;

 public:
  LANES_INLINE Follower(const KernelBatch<T>& batch, KernelRays<T>& rays)
      : scene_(*batch.scene), facet_(*batch.facet), batch_(batch), out_(rays) {}

  LANES_INLINE void follow_all() {
    for (int k = 0; k < 4; ++k) {
      for (int lane = 0; lane < k_kernel_sums; ++lane) out_.moment[k][lane] = T(0);
    }
    Drawn<R> drawn(batch_);
    const auto groups = static_cast<unsigned>(batch_.rays / N);
    for (unsigned from = 0; from < groups; from += Drawn<R>::k_groups) {
      const unsigned end = from + Drawn<R>::k_groups < groups ? from + Drawn<R>::k_groups : groups;
      drawn.template draw<HasSecondary>(batch_, from, end);
      for (unsigned group = from; group < end; ++group) {
        first_ = static_cast<int>(group) * N;
        leave(drawn, static_cast<int>(group - from) * N);
      }
      for (unsigned group = from; group < end; ++group) {
        first_ = static_cast<int>(group) * N;
        arrive(drawn, static_cast<int>(group - from) * N);
      }
    }
    out_.units_shaded = shaded_.total();
    out_.units_blocked = blocked_.total();
    out_.units_blocked_after = blocked_after_.total();
    out_.units_missed = missed_.total();
    out_.units_lost = lost_.total();
    out_.units_plane = plane_.total();
    out_.units_receiver = receiver_.total();
  }

 private:
  static LANES_INLINE R real(T one) { return R(one); }

  struct Landing {
    Truth is_reached;
    R distance;
    R x, y;
  };

  /// Where the ray crosses the receiver's plane, if it arrives on the lit side.
  LANES_INLINE Landing land(const KernelPlane<T>& plane, const Ray<R>& ray) const {
    const R approach = dot(plane.normal, ray.way);
    const R distance = (R(plane.normal_at) - dot(plane.normal, ray.point)) / approach;
    const Trio<R> hit = along(ray.point, distance, ray.way);
    return {(approach < real(T(-1e-12))) & (distance > real(T(k_kernel_start_m))), distance,
            dot(plane.right, hit) - R(plane.right_at), dot(plane.up, hit) - R(plane.up_at)};
  }

  /// From the sun to where the light leaves the facet, for the group that begins `at` rays after
  /// what is drawn does.
  LANES_INLINE void leave(const Drawn<R>& drawn, int at) {
    const Pair<R> uv = drawn.uv(at);
    const Start<R> start = start_at(facet_, batch_.offsets, first_, uv);
    const R middle = drawn.sun_middle(at);
    const Pair<R> beside = drawn.sun(at);
    const auto mixed = [&](int k) LANES_LAMBDA {
      return R(facet_.sun[k]) * middle + R(facet_.sun_x[k]) * beside.x +
             R(facet_.sun_y[k]) * beside.y;
    };
    const Trio<R> sun{mixed(0), mixed(1), mixed(2)};

    // The element du dv of the tangent plane carries du dv / n_w of glass, which catches n . sun of
    // it; projected solid angle was drawn about the sun's middle, hence the last division.
    const R cosine = dot(start.normal, sun);
    const R weight =
        least(greatest(R(facet_.units) * cosine / (start.normal.z * middle), real(T(0))),
              R(facet_.most_units));
    const Words units = base::truncated(weight + real(T(0.5)));
    Truth alive = weight > real(T(0));

    if (facet_.shader_count > 0) {
      const Truth shaded = stopped_by_any(facet_.shaders, facet_.shader_count, {start.point, sun},
                                          real(T(k_kernel_far_m)), alive);
      shaded_.add(units & shaded);
      alive = alive & ~shaded;
    }

    // Reflect off the tilted normal, then spread by specularity.
    Trio<R> normal = start.normal;
    R square = start.length * start.length;
    Pair<R> slope{real(T(0)), real(T(0))};
    if (facet_.slope > T(0)) {
      slope = drawn.template turn<4>(at);
      normal = turned(normal, start.length, slope);
      square = square + square * (slope.x * slope.x + slope.y * slope.y);
    }
    const R twice = dot(sun, normal);
    const R factor = (twice + twice) / square;
    Ray<R> ray{start.point,
               {factor * normal.x - sun.x, factor * normal.y - sun.y, factor * normal.z - sun.z}};
    Pair<R> specularity{real(T(0)), real(T(0))};
    if (facet_.specularity > T(0)) {
      specularity = drawn.template turn<6>(at);
      ray.way = turned(ray.way, real(T(1)), specularity);
    }
    if (batch_.trail != nullptr) {
      KernelTrail<T>& trail = *batch_.trail;
      const R kept[9] = {uv.x,    uv.y,    sun.x,         sun.y,        sun.z,
                         slope.x, slope.y, specularity.x, specularity.y};
      T* const to[9] = {trail.u,       trail.v,       trail.sun[0],  trail.sun[1], trail.sun[2],
                        trail.turn[0], trail.turn[1], trail.turn[2], trail.turn[3]};
      for (int k = 0; k < 9; ++k) base::store<T, N>(to[k] + first_, kept[k]);
    }
    left_.put(at, ray, select(alive, weight, real(T(0))));
  }

  /// On from the facet.
  LANES_INLINE void arrive(const Drawn<R>& drawn, int at) {
    const Ray<R> ray = left_.ray(at);
    const R weight = left_.weight(at);
    const Words units = base::truncated(weight + real(T(0.5)));
    const Truth alive = weight > real(T(0));
    if constexpr (HasSecondary) {
      go_by_secondary(drawn, at, ray, weight, units, alive);
    } else {
      go_straight(ray, weight, units, alive);
    }
  }

  LANES_INLINE void go_straight(const Ray<R>& ray, R weight, Words units, Truth alive) {
    const Landing landing = land(facet_.plane, ray);
    Truth blocked = alive & ~alive;
    if (facet_.blocker_count > 0) {
      const R most = select(landing.is_reached, landing.distance * real(T(k_kernel_short)),
                            real(T(k_kernel_far_m)));
      blocked = stopped_by_any(facet_.blockers, facet_.blocker_count, ray, most, alive);
      blocked_.add(units & blocked);
    }
    const Truth free = alive & ~blocked;
    const Truth lost = free & ~landing.is_reached;
    if (any(lost)) lost_.add(units & lost);
    note_ends({alive, blocked, blocked & ~blocked, blocked & ~blocked, lost});
    book(landing, free & landing.is_reached, weight, units, facet_.chief);
  }

  /// Where a ray arrives on the secondary's mirror side, in the secondary's frame.
  struct SecondaryMeeting {
    Truth is_on_glass;
    R distance;
    Trio<R> hit;
    Trio<R> way;  ///< on which the ray comes
  };

  LANES_INLINE SecondaryMeeting meet_secondary(const Ray<R>& facet_ray) const {
    const R zero = real(T(0));
    const Trio<R> o{dot(facet_.row[0], facet_ray.point) + R(facet_.origin[0]),
                    dot(facet_.row[1], facet_ray.point) + R(facet_.origin[1]),
                    dot(facet_.row[2], facet_ray.point) + R(facet_.origin[2])};
    const Trio<R> d{dot(facet_.row[0], facet_ray.way), dot(facet_.row[1], facet_ray.way),
                    dot(facet_.row[2], facet_ray.way)};
    // Of the two meets (-b +- root) / a the one with + arrives on the mirror side.
    const R k = R(scene_.curvature);
    const R kw = R(scene_.axial_curvature);
    const Trio<R> sd{k * d.x, k * d.y, kw * d.z};
    const R a = dot(d, sd);
    const R b = dot(o, sd) - d.z;
    const R c = k * (o.x * o.x + o.y * o.y) + kw * o.z * o.z - (o.z + o.z);
    const R discriminant = b * b - a * c;
    const R root = base::sqrt(greatest(discriminant, zero));
    R distance = -c / (b + root);
    const Truth is_from_behind = b < zero;
    if (any(is_from_behind)) distance = select(is_from_behind, (root - b) / a, distance);
    const Trio<R> hit = along(o, distance, d);
    const R r2 = hit.x * hit.x + hit.y * hit.y;
    const Truth is_on_glass = (discriminant >= zero) & (distance > real(T(k_kernel_start_m))) &
                              (distance < real(T(k_kernel_far_m))) & (kw * hit.z < real(T(1))) &
                              (r2 <= R(scene_.rim2)) & (r2 >= R(scene_.hole2));
    return {is_on_glass, distance, hit, d};
  }

  /// By value: g++ keeps copies in registers, and reads what it is referred to again.
  LANES_INLINE Ray<R> reflect_off_secondary(const Drawn<R>& drawn, int at,
                                            const SecondaryMeeting meeting) const {
    const R zero = real(T(0));
    const Trio<R> hit = meeting.hit;
    const Trio<R> d = meeting.way;
    const R k = R(scene_.curvature);
    const R kw = R(scene_.axial_curvature);
    Trio<R> normal{-(k * hit.x), -(k * hit.y), real(T(1)) - kw * hit.z};
    R square = dot(normal, normal);
    Pair<R> slope{zero, zero};
    if (scene_.secondary_slope > T(0)) {
      slope = drawn.template turn<8>(at);
      normal = turned(normal, base::sqrt(square), slope);
      square = square + square * (slope.x * slope.x + slope.y * slope.y);
    }
    const R twice = dot(d, normal);
    const R factor = (twice + twice) / square;
    Ray<R> ray{hit, {d.x - factor * normal.x, d.y - factor * normal.y, d.z - factor * normal.z}};
    Pair<R> specularity{zero, zero};
    if (scene_.secondary_specularity > T(0)) {
      specularity = drawn.template turn<10>(at);
      ray.way = turned(ray.way, base::sqrt(dot(ray.way, ray.way)), specularity);
    }
    if (batch_.trail != nullptr) {
      const R kept[4] = {slope.x, slope.y, specularity.x, specularity.y};
      for (int n = 0; n < 4; ++n) base::store<T, N>(batch_.trail->turn[4 + n] + first_, kept[n]);
    }
    return ray;
  }

  LANES_INLINE void go_by_secondary(const Drawn<R>& drawn, int at, const Ray<R>& facet_ray,
                                    R weight, Words units, Truth alive) {
    const SecondaryMeeting meeting = meet_secondary(facet_ray);
    Truth blocked = alive & ~alive;
    if (facet_.blocker_count > 0) {
      const R most = select(meeting.is_on_glass, meeting.distance * real(T(k_kernel_short)),
                            real(T(k_kernel_far_m)));
      blocked = stopped_by_any(facet_.blockers, facet_.blocker_count, facet_ray, most, alive);
      blocked_.add(units & blocked);
    }
    const Truth missed = alive & ~blocked & ~meeting.is_on_glass;
    if (any(missed)) missed_.add(units & missed);
    const Truth met = alive & ~blocked & meeting.is_on_glass;

    const Ray<R> ray = reflect_off_secondary(drawn, at, meeting);
    const Landing landing = land(scene_.plane, ray);
    Truth reached = met & landing.is_reached;
    const Truth lost = met & ~landing.is_reached;
    if (any(lost)) lost_.add(units & lost);
    Truth blocked_after = reached & ~reached;
    if (scene_.after_count > 0) {
      blocked_after = stopped_by_any(scene_.after, scene_.after_count, ray,
                                     landing.distance * real(T(k_kernel_short)), reached);
      blocked_after_.add(units & blocked_after);
      reached = reached & ~blocked_after;
    }
    note_ends({alive, blocked, blocked_after, missed, lost});
    Truth asked = reached & ~reached;
    if (!scene_.is_always_safe) asked = reached & ~is_safe(landing, ray);
    book(landing, reached & ~asked, weight, units, facet_.chief);
    if (any(asked)) ask(asked, ray, units);
  }

  /// No facet can be in the way: the ray stays near the receiver's axis within the facets' layer.
  LANES_INLINE Truth is_safe(const Landing& landing, const Ray<R>& ray) const {
    const R back = R(scene_.safe_height) / dot(scene_.plane.normal, ray.way);
    const R x = landing.x + back * dot(scene_.plane.right, ray.way);
    const R y = landing.y + back * dot(scene_.plane.up, ray.way);
    return (landing.x * landing.x + landing.y * landing.y <= R(scene_.safe2)) &
           (x * x + y * y <= R(scene_.safe2));
  }

  /// Leaves the rays to be looked at one by one.
  LANES_INLINE void ask(Truth asked, const Ray<R>& ray, Words units) {
    const R parts[6] = {ray.point.x, ray.point.y, ray.point.z, ray.way.x, ray.way.y, ray.way.z};
    for (int k = 0; k < 3; ++k) {
      base::store<T, N>(out_.asked_point[k] + first_, parts[k]);
      base::store<T, N>(out_.asked_way[k] + first_, parts[3 + k]);
    }
    const Words cell = base::load<T, N>(out_.cell + first_);
    base::store<T, N>(out_.cell + first_, select(asked, Words::all(KernelRays<T>::asked), cell));
    const Words before = base::load<T, N>(out_.units + first_);
    base::store<T, N>(out_.units + first_, select(asked, units, before));
  }

  struct Ends {
    Truth alive, blocked, blocked_after, missed, lost;
  };
  LANES_INLINE void note_ends(const Ends& ends) const {
    if (batch_.trail == nullptr) return;
    using Out = KernelRays<T>;
    Words end = Words::all(Out::landed);
    end = select(ends.lost, Words::all(Out::lost), end);
    end = select(ends.missed, Words::all(Out::missed), end);
    end = select(ends.blocked_after, Words::all(Out::blocked_after), end);
    end = select(ends.blocked, Words::all(Out::blocked), end);
    end = select(ends.alive, end, Words::all(Out::shaded));
    base::store<T, N>(batch_.trail->end + first_, end);
  }

  /// Enters what landed into sums and finds its cell of the grid.
  LANES_INLINE void book(const Landing& landing, Truth landed, R weight, Words units,
                         const T* chief) {
    const R zero = real(T(0));
    const Words kept = units & landed;
    plane_.add(kept);
    Truth caught = landed;
    if (scene_.is_round) {
      caught = caught & (landing.x * landing.x + landing.y * landing.y <= R(scene_.half2));
    } else {
      caught = caught & (base::magnitude(landing.x) <= R(scene_.half[0])) &
               (base::magnitude(landing.y) <= R(scene_.half[1]));
    }
    receiver_.add(units & caught);

    const R dx = select(landed, landing.x - R(chief[0]), zero);
    const R dy = select(landed, landing.y - R(chief[1]), zero);
    const R wx = weight * dx;
    const R wy = weight * dy;
    const R terms[4] = {wx, wy, wx * dx, wy * dy};
    const int place = first_ & (k_kernel_sums - 1);
    for (int k = 0; k < 4; ++k) {
      T* sums = out_.moment[k] + place;
      base::store<T, N>(sums, base::load<T, N>(sums) + terms[k]);
    }

    const R cells = real(T(k_kernel_grid));
    const R column = landing.x * R(scene_.cells_per_m) + real(T(0.5 * k_kernel_grid));
    const R row = landing.y * R(scene_.cells_per_m) + real(T(0.5 * k_kernel_grid));
    const Truth inside = (column >= zero) & (column < cells) & (row >= zero) & (row < cells);
    const Words c = base::truncated(select(inside, column, zero));
    const Words r = base::truncated(select(inside, row, zero));
    const Words cell{r.v * k_kernel_grid + c.v};
    base::store<T, N>(out_.cell + first_, select(inside, cell, Words::all(KernelRays<T>::outside)));
    base::store<T, N>(out_.units + first_, kept);
    base::store<T, N>(out_.x + first_, landing.x);
    base::store<T, N>(out_.y + first_, landing.y);
  }

  const KernelScene<T> scene_;
  const KernelFacet<T> facet_;
  const KernelBatch<T> batch_;
  KernelRays<T>& out_;
  int first_ = 0;
  Left<R> left_;
  Tally<R> shaded_;
  Tally<R> blocked_;
  Tally<R> blocked_after_;
  Tally<R> missed_;
  Tally<R> lost_;
  Tally<R> plane_;
  Tally<R> receiver_;
};

template <class R>
LANES_INLINE void run_kernel(const KernelBatch<typename R::Scalar>& batch,
                             KernelRays<typename R::Scalar>& rays) {
  if (batch.scene->has_secondary) {
    Follower<R, true>(batch, rays).follow_all();
  } else {
    Follower<R, false>(batch, rays).follow_all();
  }
}

template <class R>
LANES_INLINE void spread_kernel(const KernelBatch<typename R::Scalar>& batch, typename R::Scalar* u,
                                typename R::Scalar* v) {
  using T = typename R::Scalar;
  Points<R> points(*batch.points);
  for (unsigned group = 0; group < static_cast<unsigned>(batch.rays / R::count); ++group) {
    points.template go_to<0, 2>(*batch.points, group);
    const Pair<R> uv = spread(*batch.facet->outline, points.at(0), points.at(1));
    base::store<T, R::count>(u + group * R::count, uv.x);
    base::store<T, R::count>(v + group * R::count, uv.y);
  }
}

}  // namespace
}  // namespace optics
