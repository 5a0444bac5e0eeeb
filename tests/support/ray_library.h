// The same scenes through a general-purpose ray-tracing library of the package registries (Embree
// 3 or 4): exact surfaces as user geometry with callbacks in lanes, our sampler, its tree of boxes.
// For comparing numbers (tests/optics) and speed (tests/bench). Compiled where the library is
// found.
#pragma once

#include <pmmintrin.h>
#include <xmmintrin.h>

#include <cstdint>
#include <limits>
#include <memory>
#include <vector>

#include "optics/kernel_follow.h"
#include "optics/kernel_points.h"
#include "optics/kernel_scene.h"
#include "optics/trace_part.h"
#include "support/ray_library_calls.h"

namespace ray_library {
namespace {

using optics::KernelFacet;
using optics::KernelStopper;

struct Counts {
  double caught = 0.0, shaded = 0.0, blocked = 0.0, missed = 0.0, plane = 0.0, receiver = 0.0;
};

/// What callbacks see: every stopper in the dish's frame; facets come first, by their number.
struct Solids {
  std::vector<KernelStopper<float>> all;
  std::vector<RTCBounds> bounds;
};

void box_of(const RTCBoundsFunctionArguments* args) {
  *args->bounds_o = static_cast<const Solids*>(args->geometryUserPtr)->bounds[args->primID];
}

template <class R>
optics::Ray<R> ray_of(const float* ray, unsigned count, unsigned at) {
  constexpr int N = R::count;
  const auto part = [&](unsigned k) { return base::load<float, N>(ray + k * count + at); };
  return {{part(0), part(1), part(2)}, {part(4), part(5), part(6)}};
}

/// Lanes `at` and on of a packet: those asked for that do not stand on the solid itself.
template <class R>
typename R::Truth asked_of(const int* valid, const float* ray, unsigned count, unsigned at,
                           unsigned solid) {
  constexpr int N = R::count;
  const auto* id = reinterpret_cast<const std::int32_t*>(ray + 10 * count + at);
  typename R::Truth asked{base::load<float, N>(valid + at).v};
  std::int32_t other[N];
  for (int k = 0; k < N; ++k) other[k] = id[k] == static_cast<std::int32_t>(solid) ? 0 : -1;
  return asked & typename R::Truth{base::load<float, N>(other).v};
}

template <class R>
typename R::Truth stops(const KernelStopper<float>& s, const optics::Ray<R>& ray, R most,
                        typename R::Truth asked) {
  if (s.kind == KernelStopper<float>::mirror) {
    return optics::stops_mirror(s, ray, R(20.0f), most, asked);
  }
  return optics::stops_plate(s, ray, most, asked);
}

template <class R>
void occlude(const RTCOccludedFunctionNArguments* args, unsigned at) {
  constexpr int N = R::count;
  auto* ray = reinterpret_cast<float*>(args->ray);
  const auto& s = static_cast<const Solids*>(args->geometryUserPtr)->all[args->primID];
  float* const far = ray + 8 * args->N + at;
  const auto asked = asked_of<R>(args->valid, ray, args->N, at, args->primID);
  if (!base::any(asked)) return;
  const R most = base::load<float, N>(far);
  const auto stopped = stops(s, ray_of<R>(ray, args->N, at), most, asked);
  const R gone(-std::numeric_limits<float>::infinity());
  base::store<float, N>(far, base::select(stopped, gone, most));
}

/// Nearest meet: for the way to a secondary, found by bisection of what stops the ray is not
/// needed: a facet in the way only has to be known, the secondary's distance is exact.
template <class R>
void intersect(const RTCIntersectFunctionNArguments* args, unsigned at) {
  constexpr int N = R::count;
  auto* ray = reinterpret_cast<float*>(args->rayhit);
  const Solids& solids = *static_cast<const Solids*>(args->geometryUserPtr);
  const auto& s = solids.all[args->primID];
  float* const far = ray + 8 * args->N + at;
  auto asked = asked_of<R>(args->valid, ray, args->N, at, args->primID);
  if (!base::any(asked)) return;
  const R most = base::load<float, N>(far);
  const auto lane = ray_of<R>(ray, args->N, at);
  const auto stopped = stops(s, lane, most, asked);
  if (!base::any(stopped)) return;
  // The distance of the meet: along the tangent plane's normal for plates, by the quadric else.
  R distance(0.0f);
  if (s.kind == KernelStopper<float>::mirror) {
    const optics::Trio<R> o{optics::dot(s.row[0], lane.point) + R(s.origin[0]),
                            optics::dot(s.row[1], lane.point) + R(s.origin[1]),
                            optics::dot(s.row[2], lane.point) + R(s.origin[2])};
    const optics::Trio<R> d{optics::dot(s.row[0], lane.way), optics::dot(s.row[1], lane.way),
                            optics::dot(s.row[2], lane.way)};
    const auto sd = optics::times(s.quadric, d);
    const R a = optics::dot(d, sd);
    const R b = optics::dot(o, sd) - d.z;
    const R c = optics::dot(o, optics::times(s.quadric, o)) - (o.z + o.z);
    const R root = base::sqrt(base::greatest(b * b - a * c, R(0.0f)));
    distance = base::select(b >= R(0.0f), -c / (b + root), (root - b) / a);
  } else {
    distance =
        -(optics::dot(s.row[2], lane.point) + R(s.origin[2])) / optics::dot(s.row[2], lane.way);
  }
  base::store<float, N>(far, base::select(stopped, distance, most));
  std::int32_t met[N];
  base::store<float, N>(met, base::Ints<float, N>(stopped.v));
  auto* const hit = reinterpret_cast<std::uint32_t*>(ray + 12 * args->N);
  for (unsigned k = 0; k < N; ++k) {
    if (met[k] == 0) continue;
    hit[5 * args->N + at + k] = args->primID;
    hit[6 * args->N + at + k] = args->geomID;
  }
}

template <class Args, class Wide, class Single>
void in_lanes(const Args* args, const Wide& wide, const Single& single) {
  if (args->N == 8) return wide(args, 0);
  for (unsigned k = 0; k < args->N; ++k) single(args, k);
}
void occlude_any(const RTCOccludedFunctionNArguments* args) {
  in_lanes(args, occlude<base::Reals<float, 8>>, occlude<base::Reals<float, 1>>);
}
void intersect_any(const RTCIntersectFunctionNArguments* args) {
  in_lanes(args, intersect<base::Reals<float, 8>>, intersect<base::Reals<float, 1>>);
}

RTCBounds bounds_of(const optics::Scene& scene, std::uint32_t code) {
  base::Vec3 low(1e30);
  base::Vec3 high(-1e30);
  const auto take = [&](const base::Vec3& p) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  };
  if (code < scene.facets.size()) {
    const auto& facet = scene.facets[code];
    for (const base::Vec2& p : optics::boundary(scene.edges[facet.edge], 64)) {
      const double w = optics::sag(facet.surface, p.x, p.y);
      for (const double height : {0.0, w}) {
        take(base::point_to_outer(facet.dish_from_facet, {p.x, p.y, height}));
      }
    }
  } else {
    const optics::Sphere& sphere = code == scene.secondary_code()
                                       ? scene.secondary_bounds
                                       : scene.obstacles[code - scene.facets.size()].bounds;
    take(sphere.centre - sphere.radius);
    take(sphere.centre + sphere.radius);
  }
  low -= 1e-4;
  high += 1e-4;
  const auto f = [](double x) { return static_cast<float>(x); };
  return {f(low.x), f(low.y), f(low.z), 0.0f, f(high.x), f(high.y), f(high.z), 0.0f};
}

/// A packet of the library's own type for a width.
template <int N>
struct Packet;
template <>
struct Packet<8> {
  using Type = RTCRayHit8;
};
template <>
struct Packet<1> {
  using Type = RTCRayHit;
};

class Tracer {
 public:
  explicit Tracer(const optics::Scene& scene)
      : scene_(scene), maker_(scene, optics::map_width(0.0, scene.receiver.longer_side_m)) {
    _MM_SET_FLUSH_ZERO_MODE(_MM_FLUSH_ZERO_ON);
    _MM_SET_DENORMALS_ZERO_MODE(_MM_DENORMALS_ZERO_ON);
    device_ = rtcNewDevice("threads=1");
    whole_ = rtcNewScene(device_);
    add_solids();
  }
  Tracer(const Tracer&) = delete;
  Tracer& operator=(const Tracer&) = delete;
  ~Tracer() {
    rtcReleaseScene(whole_);
    rtcReleaseDevice(device_);
  }

  /// `rays` of every facet, N side by side.
  template <int N>
  Counts trace(int rays) {
    using R = base::Reals<float, N>;
    const optics::PointCopy copy(1, 0, 20, N);
    Counts counts;
    grid_.assign(256 * 256, 0);
    for (std::size_t k = 0; k < scene_.facets.size(); ++k) {
      const KernelFacet<float> facet = maker_.facet(k);
      for (int first = 0; first < rays; first += optics::k_kernel_rays) {
        const auto points = copy.block(static_cast<std::uint32_t>(k), static_cast<unsigned>(first));
        follow<R>(facet, k, points, std::min(rays - first, optics::k_kernel_rays), counts);
      }
    }
    return counts;
  }

 private:
  void add_solids() {
    const base::Pose dish;
    const std::uint32_t count = scene_.secondary_code() + (scene_.secondary ? 1 : 0);
    for (std::uint32_t code = 0; code < count; ++code) {
      solids_.all.push_back(maker_.stopper(dish, code));
      solids_.bounds.push_back(bounds_of(scene_, code));
    }
    const RTCGeometry geometry = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_USER);
    rtcSetGeometryUserPrimitiveCount(geometry, count);
    rtcSetGeometryUserData(geometry, &solids_);
    rtcSetGeometryBoundsFunction(geometry, box_of, nullptr);
    rtcSetGeometryIntersectFunction(geometry, intersect_any);
    rtcSetGeometryOccludedFunction(geometry, occlude_any);
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(whole_, geometry);
    rtcReleaseGeometry(geometry);
    rtcSetSceneBuildQuality(whole_, RTC_BUILD_QUALITY_HIGH);
    rtcCommitScene(whole_);
  }

  template <class R>
  static void put(typename Packet<R::count>::Type& packet, const optics::Ray<R>& ray, R far,
                  std::uint32_t self) {
    constexpr int N = R::count;
    auto* to = reinterpret_cast<float*>(&packet);
    const R parts[9] = {ray.point.x, ray.point.y, ray.point.z, R(1e-5f), ray.way.x,
                        ray.way.y,   ray.way.z,   R(0.0f),     far};
    for (int k = 0; k < 9; ++k) base::store<float, N>(to + k * N, parts[k]);
    auto* words = reinterpret_cast<std::uint32_t*>(&packet);
    for (int k = 0; k < N; ++k) {
      words[9 * N + k] = 0xffffffffu;
      words[10 * N + k] = self;
      words[11 * N + k] = 0;
      words[18 * N + k] = RTC_INVALID_GEOMETRY_ID;
    }
  }

  template <class R>
  typename R::Truth occluded(const optics::Ray<R>& ray, R far, typename R::Truth asked,
                             std::uint32_t self) {
    constexpr int N = R::count;
    alignas(64) typename Packet<N>::Type packet;
    alignas(64) std::int32_t valid[N];
    put(packet, ray, far, self);
    base::store<float, N>(valid, base::Ints<float, N>(asked.v));
    ray_library::occluded(valid, whole_, packet);
    const R left = base::load<float, N>(reinterpret_cast<const float*>(&packet) + 8 * N);
    return asked & (left < R(0.0f));
  }

  template <class R>
  static optics::Trio<R> turned_out(const base::Mat3& m, const optics::Trio<R>& v) {
    const auto row = [&](int k) {
      return R(static_cast<float>(m[0][k])) * v.x + R(static_cast<float>(m[1][k])) * v.y +
             R(static_cast<float>(m[2][k])) * v.z;
    };
    return {row(0), row(1), row(2)};
  }

  template <class R>
  void follow(const KernelFacet<float>& facet, std::size_t index, const optics::KernelPoints& from,
              int rays, Counts& counts) {
    const auto self = static_cast<std::uint32_t>(index);
    const base::Pose& pose = scene_.facets[index].dish_from_facet;
    const auto& common = maker_.scene();
    optics::Points<R> points(from);
    const auto whole = [&](typename R::Truth m, R weight) {
      return base::total(base::truncated(weight * R(65536.0f)) & m) / 65536.0;
    };
    for (unsigned group = 0; group < static_cast<unsigned>(rays / R::count); ++group) {
      points.template go_to<0, optics::k_kernel_prime_dimensions>(from, group);
      const auto uv = optics::spread(*facet.outline, points.at(0), points.at(1));
      const R c = R(facet.quadric[0]) * (uv.x * uv.x + uv.y * uv.y);
      const R root = base::sqrt(R(1.0f) - R(facet.quadric[2]) * c);
      const optics::Trio<R> point{uv.x, uv.y, c / (R(1.0f) + root)};
      const optics::Trio<R> normal{R(-facet.quadric[0]) * uv.x, R(-facet.quadric[0]) * uv.y, root};
      const R radius = optics::sun_radius(common, points.at(2));
      const auto round = base::sincos_of_turns(points.at(3));
      const R right = radius * round.cos;
      const R up = radius * round.sin;
      const R middle = base::sqrt(R(1.0f) - radius * radius);
      const auto mixed = [&](int k) {
        return R(facet.sun[k]) * middle + R(facet.sun_x[k]) * right + R(facet.sun_y[k]) * up;
      };
      const optics::Trio<R> sun{mixed(0), mixed(1), mixed(2)};
      const R weight = optics::dot(normal, sun) / (normal.z * middle);
      const auto alive = weight > R(0.0f);
      counts.caught += whole(alive, weight);

      optics::Ray<R> ray{turned_out(pose.axes, point), turned_out(pose.axes, sun)};
      ray.point.x = ray.point.x + R(static_cast<float>(pose.origin.x));
      ray.point.y = ray.point.y + R(static_cast<float>(pose.origin.y));
      ray.point.z = ray.point.z + R(static_cast<float>(pose.origin.z));
      const auto shaded = occluded<R>(ray, R(1e9f), alive, self);
      counts.shaded += whole(shaded, weight);
      const auto lit = alive & ~shaded;

      const auto slope = optics::gaussians(points.at(4), points.at(5), facet.slope);
      const auto tilted = optics::turned(normal, R(1.0f), slope);
      const R square = R(1.0f) + (slope.x * slope.x + slope.y * slope.y);
      const R twice = optics::dot(sun, tilted);
      const R factor = (twice + twice) / square;
      const optics::Trio<R> out{factor * tilted.x - sun.x, factor * tilted.y - sun.y,
                                factor * tilted.z - sun.z};
      const auto spread = optics::turned(
          out, R(1.0f), optics::gaussians(points.at(6), points.at(7), facet.specularity));
      ray.way = turned_out(pose.axes, spread);
      if (scene_.secondary) {
        go_by_secondary<R>(ray, lit, weight, self, counts, whole);
      } else {
        land<R>(ray, lit, weight, self, counts, whole);
      }
    }
  }

  template <class R, class Whole>
  void go_by_secondary(const optics::Ray<R>& ray, typename R::Truth lit, R weight,
                       std::uint32_t self, Counts& counts, const Whole& whole) {
    constexpr int N = R::count;
    alignas(64) typename Packet<N>::Type packet;
    alignas(64) std::int32_t valid[N];
    put(packet, ray, R(1e9f), self);
    base::store<float, N>(valid, base::Ints<float, N>(lit.v));
    ray_library::intersect(valid, whole_, packet);
    const auto* words = reinterpret_cast<const std::uint32_t*>(&packet);
    std::int32_t is_mirror[N];
    std::int32_t is_stopped[N];
    for (int k = 0; k < N; ++k) {
      const bool met = words[18 * N + k] != RTC_INVALID_GEOMETRY_ID;
      is_mirror[k] = met && words[17 * N + k] == scene_.secondary_code() ? -1 : 0;
      is_stopped[k] = met && words[17 * N + k] != scene_.secondary_code() ? -1 : 0;
    }
    using Truth = typename R::Truth;
    const Truth stopped = lit & Truth{base::load<float, N>(is_stopped).v};
    const Truth met = lit & Truth{base::load<float, N>(is_mirror).v};
    if (base::any(stopped)) counts.blocked += whole(stopped, weight);
    const Truth missed = lit & ~stopped & ~met;
    if (base::any(missed)) counts.missed += whole(missed, weight);
    const R far = base::load<float, N>(reinterpret_cast<const float*>(&packet) + 8 * N);
    const auto& s = solids_.all[scene_.secondary_code()];
    const optics::Trio<R> hit = optics::along(ray.point, far, ray.way);
    const R k(s.quadric[0]);
    const R x = optics::dot(s.row[0], hit) + R(s.origin[0]);
    const R y = optics::dot(s.row[1], hit) + R(s.origin[1]);
    const R z = optics::dot(s.row[2], hit) + R(s.origin[2]);
    const optics::Trio<R> g{-(k * x), -(k * y), R(1.0f) - R(s.quadric[2]) * z};
    const optics::Trio<R> d{optics::dot(s.row[0], ray.way), optics::dot(s.row[1], ray.way),
                            optics::dot(s.row[2], ray.way)};
    const R twice = optics::dot(d, g);
    const R factor = (twice + twice) / optics::dot(g, g);
    const optics::Trio<R> out{d.x - factor * g.x, d.y - factor * g.y, d.z - factor * g.z};
    const base::Pose& mirror = scene_.secondary->dish_from_secondary;
    land<R>({hit, turned_out(mirror.axes, out)}, met, weight, scene_.secondary_code(), counts,
            whole);
  }

  template <class R, class Whole>
  void land(const optics::Ray<R>& ray, typename R::Truth lit, R weight, std::uint32_t self,
            Counts& counts, const Whole& whole) {
    constexpr int N = R::count;
    const base::Pose& board = scene_.receiver.dish_from_board;
    const auto row = [&](const base::Vec3& axis, const optics::Trio<R>& p) {
      return R(static_cast<float>(axis.x)) * p.x + R(static_cast<float>(axis.y)) * p.y +
             R(static_cast<float>(axis.z)) * p.z;
    };
    const auto at = [&](const base::Vec3& axis) {
      return R(static_cast<float>(glm::dot(axis, board.origin)));
    };
    const R approach = row(board.z(), ray.way);
    const R distance = (at(board.z()) - row(board.z(), ray.point)) / approach;
    const auto reached = lit & (approach < R(0.0f)) & (distance > R(0.0f));
    const auto stopped = occluded<R>(ray, distance * R(1.0f - 1e-5f), reached, self);
    if (base::any(stopped)) counts.blocked += whole(stopped, weight);
    const auto landed = reached & ~stopped;
    counts.plane += whole(landed, weight);
    const optics::Trio<R> hit = optics::along(ray.point, distance, ray.way);
    const R x = row(board.x(), hit) - at(board.x());
    const R y = row(board.y(), hit) - at(board.y());
    const auto& common = maker_.scene();
    counts.receiver += whole(landed & (x * x + y * y <= R(common.half2)), weight);
    const R column =
        base::greatest(base::least(x * R(common.cells_per_m) + R(128.0f), R(255.0f)), R(0.0f));
    const R line =
        base::greatest(base::least(y * R(common.cells_per_m) + R(128.0f), R(255.0f)), R(0.0f));
    std::int32_t cell[N];
    std::int32_t units[N];
    base::store<float, N>(
        cell, base::Ints<float, N>(base::truncated(line).v * 256 + base::truncated(column).v));
    base::store<float, N>(units, base::truncated(weight * R(65536.0f)) & landed);
    for (int k = 0; k < N; ++k) grid_[static_cast<std::size_t>(cell[k])] += units[k];
  }

  const optics::Scene& scene_;
  optics::KernelMaker<float> maker_;
  Solids solids_;
  RTCDevice device_ = nullptr;
  RTCScene whole_ = nullptr;
  std::vector<std::int64_t> grid_;
};

}  // namespace
}  // namespace ray_library
