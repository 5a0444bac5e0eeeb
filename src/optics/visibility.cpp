// Soft edges in the way of chief rays.
#include "optics/visibility.h"

#include <algorithm>
#include <cmath>

#include "optics/occluder.h"
#include "optics/path.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

constexpr double k_least_cover = 3e-4;  ///< what covers less of every point of an outline is let be
constexpr double k_reach = 5.0;         ///< standard deviations; what passes farther off is clear

/// A sphere that may touch the cone from the secondary to twice the receiver's disc.
bool touches_last_stretch(const Scene& scene, const Sphere& sphere) {
  const Vec3 from = scene.secondary_bounds.centre;
  const Vec3 way = scene.receiver.dish_from_board.origin - from;
  const double share =
      std::clamp(glm::dot(sphere.centre - from, way) / glm::dot(way, way), 0.0, 1.0);
  const double wide = scene.receiver.longer_side_m;
  // What does not rise above the receiver's plane is behind it.
  const double height = base::point_to_inner(scene.receiver.dish_from_board, sphere.centre).z;
  if (height + sphere.radius <= 0.0) return false;
  const double radius = scene.secondary_bounds.radius * (1.0 - share) + wide * share;
  return glm::distance(sphere.centre, from + share * way) < radius + sphere.radius;
}

/// Points that cover a piece evenly, each as a cell with the piece's shape.
void visit_cells(const FacetNode& piece, int points, const auto& take) {
  const int n = std::max(1, static_cast<int>(std::lround(std::sqrt(points))));
  FacetNode cell = piece;
  cell.share = 1.0 / (n * n);
  cell.uu /= n * n;
  cell.uv_cross /= n * n;
  cell.vv /= n * n;
  if (!piece.is_triangle) {
    for (int i = 0; i < n; ++i) {
      for (int j = 0; j < n; ++j) {
        cell.uv =
            piece.uv + ((i + 0.5) / n - 0.5) * piece.along + ((j + 0.5) / n - 0.5) * piece.across;
        take(cell);
      }
    }
    return;
  }
  const Vec2 corner = piece.uv - (piece.along + piece.across) / 3.0;
  const auto at = [&](double i, double j) {
    return corner + i / n * piece.along + j / n * piece.across;
  };
  for (int i = 0; i < n; ++i) {
    for (int j = 0; i + j < n; ++j) {
      cell.uv = at(i + 1.0 / 3.0, j + 1.0 / 3.0);
      take(cell);
      if (i + j + 1 >= n) continue;
      cell.uv = at(i + 2.0 / 3.0, j + 2.0 / 3.0);
      take(cell);
    }
  }
}

}  // namespace

bool touches_last_stretch(const Scene& scene, std::size_t index) {
  if (!scene.secondary) return false;
  const SceneFacet& facet = scene.facets[index];
  if (!touches_last_stretch(scene, facet.bounds)) return false;
  // The sphere is wide: only glass that rises above the receiver's plane counts.
  const Edge& edge = scene.edges[facet.edge];
  const base::Pose& board = scene.receiver.dish_from_board;
  const auto is_above = [&](const Vec2& p) {
    const Vec3 point{p.x, p.y, sag(facet.surface, p.x, p.y)};
    return base::point_to_inner(board, base::point_to_outer(facet.dish_from_facet, point)).z > 0.0;
  };
  const auto points = boundary(edge, 24);
  return is_above({0.0, 0.0}) || std::any_of(points.begin(), points.end(), is_above);
}

std::size_t count_late_blockers(const Scene& scene) {
  if (!scene.secondary) return 0;
  std::size_t count = 0;
  for (std::size_t k = scene.receiver_shades ? 1 : 0; k < scene.obstacles.size(); ++k) {
    count += touches_last_stretch(scene, scene.obstacles[k].bounds) ? 1 : 0;
  }
  for (std::size_t k = 0; k < scene.facets.size(); ++k) {
    count += touches_last_stretch(scene, k) ? 1 : 0;
  }
  return count;
}

Visibility::Visibility(const Scene& scene, std::size_t facet, ConeKernels& kernels, bool late)
    : scene_(scene), facet_(scene.facets[facet]), late_(late) {
  if (facet_.shaders.count + facet_.blockers.count == 0) return;
  const double sun2 = scene.sun_profile.variance;
  // Across the plane of incidence slopes turn the ray a little less; the mean of both serves.
  const double cosine = glm::dot(facet_.dish_from_facet.z(), scene.sun);
  const double error2 = 2.0 * base::square(facet_.slope_error_rad) * (1.0 + base::square(cosine)) +
                        base::square(facet_.specularity_error_rad);
  toward_sun_.deviation_rad = std::sqrt(sun2);
  leaving_.deviation_rad = std::sqrt(sun2 + error2);
  std::vector<Spot> corners;
  for (const Vec2& uv : boundary(scene.edges[facet_.edge], 12)) corners.push_back(spot_at(uv));
  if (facet_.shaders.count > 0) {
    toward_sun_.profile = kernels.profile(0.0);
    shaders_ = in_the_way(facet_.shaders, true, corners);
  }
  if (facet_.blockers.count > 0) {
    const double error = std::sqrt(error2);
    leaving_.profile =
        kernels.profile(leaving_.deviation_rad > 0.0 ? error / leaving_.deviation_rad : 0.0);
    blockers_ = in_the_way(facet_.blockers, false, corners);
  }
}

Visibility::Spot Visibility::spot_at(const Vec2& uv) const {
  const FacetPoint start = facet_point(scene_, facet_, uv);
  Spot spot;
  spot.at = base::point_to_outer(facet_.dish_from_facet, start.point);
  spot.leaving =
      base::reflect(-scene_.sun, base::direction_to_outer(facet_.dish_from_facet, start.normal));
  spot.most = k_far_m;
  if (scene_.secondary) {
    const auto hit = hit_mirror_side(*scene_.secondary, spot.at, spot.leaving, 1e-7);
    if (hit) spot.most = hit->distance;
    return spot;
  }
  const base::Pose& board = scene_.receiver.dish_from_board;
  const double approach = glm::dot(spot.leaving, board.z());
  const double distance = glm::dot(board.origin - spot.at, board.z()) / approach;
  if (approach < -1e-12 && distance > 0.0) spot.most = distance;
  return spot;
}

std::vector<std::uint32_t> Visibility::in_the_way(const Span& span, bool toward_sun,
                                                  const std::vector<Spot>& corners) const {
  const Beam& beam = toward_sun ? toward_sun_ : leaving_;
  const double own = facet_.bounds.radius;
  std::vector<std::uint32_t> found;
  for (std::uint32_t k = 0; k < span.count; ++k) {
    const std::uint32_t code = scene_.candidates[span.first + k];
    const Sphere& other = bounds_of_candidate(scene_, code);
    const double blur =
        k_reach * beam.deviation_rad * (glm::distance(other.centre, facet_.bounds.centre) + own);
    // Clear when the outline, cast along its rays, lies wholly beyond one side of the other, by
    // more than the blur; or wholly before it.
    bool is_beside = !corners.empty();
    bool is_before = is_beside;
    bool is_beyond = is_beside && !toward_sun;
    Vec3 outward{0.0};
    for (std::size_t c = 0; c < corners.size() && (is_beside || is_before || is_beyond); ++c) {
      const Vec3& direction = toward_sun ? scene_.sun : corners[c].leaving;
      const auto meeting = meet_edge(scene_, code, corners[c].at, direction);
      if (!meeting) {
        is_beside = is_beyond = false;
        continue;
      }
      is_before = is_before && meeting->distance_m < -k_start_m;
      is_beyond = is_beyond && meeting->distance_m > corners[c].most;
      const double length = glm::length(meeting->outward);
      const Vec3 unit = meeting->outward / length;
      if (c == 0) outward = unit;
      is_beside = is_beside && -meeting->inside_m > blur * length && glm::dot(unit, outward) > 0.95;
    }
    const bool is_clear = is_beside || is_before || is_beyond;
    if (is_clear || (code < scene_.facets.size() && !reaches(code, beam, toward_sun))) continue;
    found.push_back(code);
  }
  return found;
}

bool Visibility::reaches(std::uint32_t code, const Beam& beam, bool toward_sun) const {
  // Facets are of a size, so what one covers of another holds a place on the outline.
  const auto corners = boundary(scene_.edges[facet_.edge], 24);
  const int steps = corners.size() > 8 ? 1 : (scene_.facets.size() > 100 ? 3 : 6);
  const FacetNode point;
  for (std::size_t k = 0; k < corners.size(); ++k) {
    const Vec2 way = corners[(k + 1) % corners.size()] - corners[k];
    for (int step = 0; step < steps; ++step) {
      const Spot spot = spot_at(corners[k] + (static_cast<double>(step) / steps) * way);
      const Vec3& direction = toward_sun ? scene_.sun : spot.leaving;
      if (covered({code}, beam, spot, direction, toward_sun ? k_far_m : spot.most, point) >
          k_least_cover) {
        return true;
      }
    }
  }
  return false;
}

double Visibility::covered(const std::vector<std::uint32_t>& codes, const Beam& beam,
                           const Spot& spot, const Vec3& direction, double most,
                           const FacetNode& cell) const {
  // Facets lie side by side, so their shares add up; of solids, which stand one behind the other,
  // the greatest counts.
  double by_facets = 0.0;
  double by_solids = 0.0;
  for (const std::uint32_t code : codes) {
    const auto meeting = meet_edge(scene_, code, spot.at, direction);
    if (!meeting || !(meeting->distance_m > k_start_m && meeting->distance_m < most)) continue;
    const Vec3& w = meeting->outward;
    const double u = glm::dot(w, facet_.dish_from_facet.x());
    const double v = glm::dot(w, facet_.dish_from_facet.y());
    const double variance =
        base::square(meeting->distance_m * beam.deviation_rad) * glm::dot(w, w) + cell.uu * u * u +
        2.0 * cell.uv_cross * u * v + cell.vv * v * v;
    const double share =
        1.0 - beam.profile.share_beyond(meeting->inside_m / std::sqrt(variance + 1e-18));
    if (code < scene_.facets.size()) {
      by_facets = std::min(by_facets + share, 1.0);
    } else {
      by_solids = std::max(by_solids, share);
    }
  }
  return 1.0 - (1.0 - by_facets) * (1.0 - by_solids);
}

Fates Visibility::of(const FacetNode& piece, int points) const {
  Fates fates;
  if (is_clear()) return fates;
  visit_cells(piece, points, [&](const FacetNode& cell) {
    const Spot spot = spot_at(cell.uv);
    const double shaded = covered(shaders_, toward_sun_, spot, scene_.sun, k_far_m, cell);
    const double blocked =
        covered(blockers_, leaving_, spot, spot.leaving, spot.most * (1.0 - 1e-9), cell);
    fates.shaded += cell.share * shaded;
    fates.blocked += cell.share * (1.0 - shaded) * blocked;
    if (!late_) return;
    const Path path = go_on(scene_, facet_, spot.at, spot.leaving, {},
                            {.shading = false, .blocking = true, .rim = false});
    if (path.end == End::blocked && path.met_secondary) {
      fates.blocked_late += cell.share * (1.0 - shaded) * (1.0 - blocked);
    }
  });
  return fates;
}

}  // namespace optics
