// From mirror to mirror, nearest first.
#include "optics/further_hits.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "base/sobol.h"
#include "base/sums.h"
#include "optics/path.h"
#include "optics/ray_draw.h"

namespace optics {
namespace {

using base::Vec3;

constexpr int k_most_hits = 32;
constexpr std::uint32_t k_copies = 8;

/// The next mirror along a ray.
struct Meeting {
  double distance = k_far_m;
  Vec3 normal{0.0};  ///< toward its reflecting side
  double reflectance = 0.0;
  bool is_any = false;
};

void meet_facet(const Scene& scene, const SceneFacet& facet, const Vec3& origin,
                const Vec3& direction, Meeting& nearest) {
  if (!meets(facet.bounds, origin, direction)) return;
  const Vec3 o = base::point_to_inner(facet.dish_from_facet, origin);
  const Vec3 d = base::direction_to_inner(facet.dish_from_facet, direction);
  const Hits hits = intersect(facet.surface, o, d);
  for (int k = 0; k < hits.count; ++k) {
    const double distance = hits.distance[static_cast<std::size_t>(k)];
    if (!(distance > k_start_m && distance < nearest.distance)) continue;
    const Vec3 point = o + distance * d;
    if (!is_inside(scene.edges[facet.edge], point.x, point.y)) continue;
    nearest = {distance,
               base::direction_to_outer(facet.dish_from_facet, normal_at(facet.surface, point)),
               facet.reflectance, true};
  }
}

void meet_secondary(const SecondaryMirror& mirror, const Vec3& origin, const Vec3& direction,
                    Meeting& nearest) {
  const Vec3 o = base::point_to_inner(mirror.dish_from_secondary, origin);
  const Vec3 d = base::direction_to_inner(mirror.dish_from_secondary, direction);
  const Hits hits = intersect(mirror.surface, o, d);
  for (int k = 0; k < hits.count; ++k) {
    const double distance = hits.distance[static_cast<std::size_t>(k)];
    if (!(distance > k_start_m && distance < nearest.distance)) continue;
    const Vec3 point = o + distance * d;
    const double r = std::hypot(point.x, point.y);
    if (r > mirror.rim_radius_m || r < mirror.hole_radius_m) continue;
    nearest = {
        distance,
        base::direction_to_outer(mirror.dish_from_secondary, normal_at(mirror.surface, point)),
        mirror.reflectance, true};
  }
}

Meeting next_mirror(const Scene& scene, const Vec3& origin, const Vec3& direction) {
  Meeting nearest;
  for (const SceneFacet& facet : scene.facets) meet_facet(scene, facet, origin, direction, nearest);
  if (scene.secondary) meet_secondary(*scene.secondary, origin, direction, nearest);
  return nearest;
}

/// Distance to the receiver's lit face, when the ray meets it.
std::optional<double> distance_to_receiver(const Scene& scene, const Vec3& origin,
                                           const Vec3& direction) {
  const base::Pose& board = scene.receiver.dish_from_board;
  const double approach = glm::dot(direction, board.z());
  if (!(approach < -1e-12)) return std::nullopt;
  const double distance = glm::dot(board.origin - origin, board.z()) / approach;
  if (!(distance > k_start_m)) return std::nullopt;
  const Vec3 off = origin + distance * direction - board.origin;
  const base::Vec2 at{glm::dot(off, board.x()), glm::dot(off, board.y())};
  if (!is_on_receiver(scene.receiver, at)) return std::nullopt;
  return distance;
}

struct Fate {
  int hits = 0;
  bool met_mirror = false;
  double share_on_receiver = 0.0;  ///< of the watts at the start
};

Fate follow_on(const Scene& scene, Vec3 origin, Vec3 direction) {
  Fate fate;
  double left = 1.0;
  while (fate.hits < k_most_hits) {
    const Meeting mirror = next_mirror(scene, origin, direction);
    const auto receiver = distance_to_receiver(scene, origin, direction);
    const bool reaches = receiver && *receiver < mirror.distance;
    const double most = (reaches ? *receiver : mirror.distance) * (1.0 - 1e-12) - 1e-9;
    for (const Obstacle& obstacle : scene.obstacles) {
      if (is_stopped_by(obstacle, origin, direction, k_start_m, most)) return fate;
    }
    if (reaches) {
      // Straight there was no way, or the trace would have booked it: only after another mirror.
      if (fate.hits > 0) fate.share_on_receiver = left;
      return fate;
    }
    if (!mirror.is_any || !(glm::dot(mirror.normal, direction) < 0.0)) return fate;
    fate.met_mirror = true;
    ++fate.hits;
    left *= mirror.reflectance;
    origin += mirror.distance * direction;
    direction = base::reflect(direction, mirror.normal);
  }
  return fate;
}

/// Where a stopped ray goes on: from its last mirror, unless it was stopped on the way there.
bool goes_on(const Path& path, Vec3& origin) {
  if (path.end != End::blocked && path.end != End::missed_secondary) return false;
  origin = path.met_secondary ? path.secondary_point : path.facet_point;
  return true;
}

class Count {
 public:
  explicit Count(const Scene& scene) : scene_(scene) {}

  void enter(const SceneFacet& facet, const Path& path, double watts, std::uint32_t copy) {
    Vec3 origin;
    if (!goes_on(path, origin)) return;
    double left = watts * facet.reflectance;
    if (path.met_secondary) left *= scene_.secondary->reflectance;
    stopped_.add(left);
    const Fate fate = follow_on(scene_, origin, path.last_direction);
    if (fate.met_mirror) mirrored_.add(left);
    most_hits_ = std::max(most_hits_, fate.hits);
    receiver_[copy].add(left * fate.share_on_receiver);
  }

  [[nodiscard]] FurtherHits result() const {
    FurtherHits found{
        .stopped_W = stopped_.value(), .mirrored_W = mirrored_.value(), .most_hits = most_hits_};
    for (const base::Sum& one : receiver_) found.receiver_W += one.value();
    const double mean = found.receiver_W / k_copies;
    double square = 0.0;
    for (const base::Sum& one : receiver_) square += std::pow(one.value() - mean, 2);
    found.standard_error_W = std::sqrt(square * k_copies / (k_copies - 1.0));
    return found;
  }

 private:
  const Scene& scene_;
  base::Sum stopped_;
  base::Sum mirrored_;
  std::array<base::Sum, k_copies> receiver_;
  int most_hits_ = 0;
};

}  // namespace

FurtherHits follow_further(const Scene& scene, std::uint64_t rays, std::uint64_t seed,
                           const base::Progress& progress) {
  Count count(scene);
  const std::uint64_t streams = std::uint64_t{k_copies} * scene.facets.size();
  const auto each =
      static_cast<std::uint32_t>(std::max<std::uint64_t>(1, (rays + streams - 1) / streams));
  for (std::uint32_t index = 0; index < scene.facets.size(); ++index) {
    if (progress.cancelled()) break;
    const SceneFacet& facet = scene.facets[index];
    const Edge& edge = scene.edges[facet.edge];
    const double watts_per_ray = scene.dni_W_m2 * edge.area_m2 / (double{k_copies} * each);
    for (std::uint32_t copy = 0; copy < k_copies; ++copy) {
      base::Sobol points(seed, index, copy, 0);
      for (std::uint32_t ray = 0; ray < each; ++ray) {
        double x[k_ray_dimensions];
        points.next(x, k_ray_dimensions);
        const FacetPoint start = facet_point(scene, facet, sample(edge, x[0], x[1]));
        const Vec3 sun = sun_ray(scene, x[2], x[3]);
        const double cosine =
            glm::dot(base::direction_to_outer(facet.dish_from_facet, start.normal), sun);
        if (!(cosine > 0.0)) continue;
        const double watts = watts_per_ray * cosine / (start.normal.z * glm::dot(sun, scene.sun));
        const Path path = follow(scene, facet, start, sun, draw_turns(scene, facet, x), Tests{});
        count.enter(facet, path, watts, copy);
      }
    }
    progress.tell(static_cast<double>(index + 1) / static_cast<double>(scene.facets.size()));
  }
  return count.result();
}

}  // namespace optics
