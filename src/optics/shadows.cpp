// A few rays for each cell of each facet that has anything in its way; the first thing met is
// named.
#include "optics/shadows.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "optics/path.h"
#include "optics/ray_draw.h"
#include "optics/visibility.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

constexpr int k_finest_side = 24;
constexpr int k_suns = 4;  ///< points of the sun's disc for each cell

/// Four points that share the disc's area evenly, turned from cell to cell so that the edge of a
/// shadow shows no pattern.
Vec3 sun_point(const Scene& scene, int k, int cell) {
  constexpr double golden = 0.6180339887498949;
  const double turn = std::fmod(cell * golden + 0.25 * k, 1.0);
  return sun_ray(scene, (k + 0.5) / k_suns, turn);
}

class Finder {
 public:
  Finder(const Scene& scene, int side) : scene_(scene), side_(side) {}

  std::vector<float> look_at(std::size_t index) {
    const SceneFacet& facet = scene_.facets[index];
    if (facet.shaders.count + facet.blockers.count == 0 && is_last_stretch_clear_) return {};
    const double radius = scene_.edges[facet.edge].bounding_radius_m;
    const double cell = 2.0 * radius / side_;
    const double cell_W = scene_.dni_W_m2 * cell * cell / k_suns;
    std::vector<float> clear(static_cast<std::size_t>(side_ * side_), 1.0F);
    for (int k = 0; k < side_ * side_; ++k) {
      const Vec2 corner{(k % side_) * cell - radius, (k / side_) * cell - radius};
      int passed = 0;
      for (int sun = 0; sun < k_suns; ++sun) {
        // Each point of the sun looks at a quarter of the cell of its own.
        const Vec2 uv = corner + cell * Vec2(0.25 + 0.5 * (sun % 2), 0.25 + 0.5 * (sun / 2));
        passed += passes(facet, uv, sun_point(scene_, sun, k), cell_W) ? 1 : 0;
      }
      clear[static_cast<std::size_t>(k)] = static_cast<float>(passed) / k_suns;
    }
    const bool is_clear =
        std::all_of(clear.begin(), clear.end(), [](float c) { return c == 1.0F; });
    return is_clear ? std::vector<float>() : clear;
  }

  [[nodiscard]] std::vector<Culprit> culprits() const {
    std::vector<Culprit> all;
    for (const auto& [key, culprit] : found_) {
      if (culprit.shaded_W + culprit.blocked_W > 0.0) all.push_back(culprit);
    }
    std::stable_sort(all.begin(), all.end(), [](const Culprit& a, const Culprit& b) {
      return a.shaded_W + a.blocked_W > b.shaded_W + b.blocked_W;
    });
    return all;
  }

 private:
  /// Points outside the outline are looked at too, because their colour runs into the edge, but
  /// they carry no light.
  bool passes(const SceneFacet& facet, const Vec2& uv, const Vec3& sun, double watts) {
    const FacetPoint start = facet_point(scene_, facet, uv);
    if (!std::isfinite(start.point.z)) return true;
    const Path path = follow(scene_, facet, start, sun, {}, Tests{.rim = false});
    const Vec3 normal = base::direction_to_outer(facet.dish_from_facet, start.normal);
    const bool is_glass = is_inside(scene_.edges[facet.edge], uv.x, uv.y);
    const double share =
        is_glass ? watts * std::max(glm::dot(normal, sun), 0.0) / start.normal.z : 0.0;
    if (path.end == End::shaded) {
      culprit(first_of(facet.shaders, path.facet_point, sun)).shaded_W += share;
      return false;
    }
    if (path.end != End::blocked) return true;
    const std::uint32_t code =
        path.met_secondary ? first_late(path)
                           : first_of(facet.blockers, path.facet_point, path.last_direction);
    culprit(code).blocked_W += share;
    return false;
  }

  /// The candidate that stops the ray nearest to its start: the distance is bisected, because the
  /// tests answer only yes or no.
  std::uint32_t first_of(const Span& span, const Vec3& origin, const Vec3& direction) const {
    std::uint32_t best = scene_.candidates[span.first];
    double nearest = k_far_m;
    for (std::uint32_t k = 0; k < span.count; ++k) {
      const std::uint32_t code = scene_.candidates[span.first + k];
      if (!is_stopped_by(scene_, code, origin, direction, k_start_m, nearest)) continue;
      best = code;
      double low = k_start_m;
      double high = std::min(nearest, 1e3);
      for (int step = 0; step < 24; ++step) {
        const double middle = 0.5 * (low + high);
        (is_stopped_by(scene_, code, origin, direction, k_start_m, middle) ? high : low) = middle;
      }
      nearest = high;
    }
    return best;
  }

  std::uint32_t first_late(const Path& path) const {
    for (std::size_t k = scene_.receiver_shades ? 1 : 0; k < scene_.obstacles.size(); ++k) {
      const std::uint32_t code = scene_.obstacle_code(k);
      if (is_stopped_by(scene_, code, path.secondary_point, path.last_direction, k_start_m,
                        k_far_m)) {
        return code;
      }
    }
    for (std::uint32_t facet = 0; facet < scene_.facets.size(); ++facet) {
      if (is_stopped_by(scene_, facet, path.secondary_point, path.last_direction, k_start_m,
                        k_far_m)) {
        return facet;
      }
    }
    return 0;
  }

  Culprit& culprit(std::uint32_t code) {
    Culprit& made = found_[code];
    const auto facets = static_cast<std::uint32_t>(scene_.facets.size());
    if (code == scene_.secondary_code()) {
      made.kind = Culprit::Kind::secondary;
    } else if (code < facets) {
      made.kind = Culprit::Kind::facet;
      made.index = code;
    } else if (scene_.receiver_shades && code == facets) {
      made.kind = Culprit::Kind::receiver;
    } else {
      made.kind = Culprit::Kind::blocker;
      made.index = code - facets - (scene_.receiver_shades ? 1 : 0);
    }
    return made;
  }

  const Scene& scene_;
  int side_;
  bool is_last_stretch_clear_ = count_late_blockers(scene_) == 0;
  std::map<std::uint32_t, Culprit> found_;
};

}  // namespace

Shadows find_shadows(const Scene& scene, int rays) {
  const double cells =
      static_cast<double>(rays) / k_suns / static_cast<double>(scene.facets.size());
  Shadows shadows;
  shadows.side = std::clamp(static_cast<int>(std::sqrt(cells)), 2, k_finest_side);
  Finder finder(scene, shadows.side);
  shadows.clear.reserve(scene.facets.size());
  for (std::size_t k = 0; k < scene.facets.size(); ++k) shadows.clear.push_back(finder.look_at(k));
  shadows.culprits = finder.culprits();
  return shadows;
}

}  // namespace optics
