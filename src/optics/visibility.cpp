// Soft edges in the way of chief rays.
#include "optics/visibility.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
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
  toward_sun_.is_toward_sun = true;
  toward_sun_.deviation_rad = std::sqrt(sun2);
  leaving_.deviation_rad = std::sqrt(sun2 + error2);
  std::vector<Spot> corners;
  for (const Vec2& uv : boundary(scene.edges[facet_.edge], 12)) corners.push_back(spot_at(uv));
  leaving_.turn_rad_m = turn_over(corners);
  std::vector<Spot> outline;
  if (facet_.shaders.count > 0) {
    toward_sun_.profile = kernels.blend(0.0);
    shaders_ = in_the_way(facet_.shaders, toward_sun_, corners, outline);
  }
  if (facet_.blockers.count > 0) {
    const double error = std::sqrt(error2);
    leaving_.profile =
        kernels.blend(leaving_.deviation_rad > 0.0 ? error / leaving_.deviation_rad : 0.0);
    blockers_ = in_the_way(facet_.blockers, leaving_, corners, outline);
  }
}

std::vector<Visibility::Spot> Visibility::outline_spots() const {
  const auto corners = boundary(scene_.edges[facet_.edge], 24);
  const int steps = corners.size() > 8 ? 1 : (scene_.facets.size() > 100 ? 3 : 6);
  std::vector<Spot> spots;
  spots.reserve(corners.size() * static_cast<std::size_t>(steps));
  for (std::size_t k = 0; k < corners.size(); ++k) {
    const Vec2 way = corners[(k + 1) % corners.size()] - corners[k];
    for (int step = 0; step < steps; ++step) {
      spots.push_back(spot_at(corners[k] + (static_cast<double>(step) / steps) * way));
    }
  }
  return spots;
}

double Visibility::turn_over(const std::vector<Spot>& corners) const {
  const Spot middle = spot_at({0.0, 0.0});
  double most = 0.0;
  for (const Spot& spot : corners) {
    most = std::max(most, glm::distance(spot.leaving, middle.leaving) /
                              std::max(glm::distance(spot.at, middle.at), 1e-9));
  }
  return most;
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

const Vec3& Visibility::direction_of(const Beam& beam, const Spot& spot) const {
  return beam.is_toward_sun ? scene_.sun : spot.leaving;
}

Visibility::Codes Visibility::in_the_way(const Span& span, const Beam& beam,
                                         const std::vector<Spot>& corners,
                                         std::vector<Spot>& outline) const {
  const double own = facet_.bounds.radius;
  Codes found;
  for (std::uint32_t k = 0; k < span.count; ++k) {
    const std::uint32_t code = scene_.candidates[span.first + k];
    const Sphere& other = bounds_of_candidate(scene_, code);
    const double blur =
        k_reach * beam.deviation_rad * (glm::distance(other.centre, facet_.bounds.centre) + own);
    // Clear when the outline, cast along its rays, lies wholly beyond one side of the other, by
    // more than the blur; or wholly before it.
    bool is_beside = !corners.empty();
    bool is_before = is_beside;
    bool is_beyond = is_beside && !beam.is_toward_sun;
    Vec3 outward{0.0};
    for (std::size_t c = 0; c < corners.size() && (is_beside || is_before || is_beyond); ++c) {
      const auto meeting = meet_edge(scene_, code, corners[c].at, direction_of(beam, corners[c]));
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
    if (is_clear || (code < scene_.facets.size() && !reaches(code, beam, outline))) continue;
    found.push_back(code);
  }
  return found;
}

bool Visibility::reaches(std::uint32_t code, const Beam& beam, std::vector<Spot>& outline) const {
  if (outline.empty()) outline = outline_spots();
  // Facets are of a size, so what one covers of another holds a place on the outline.
  const Codes alone{code};
  const FacetNode point;
  return std::any_of(outline.begin(), outline.end(), [&](const Spot& spot) {
    const double most = beam.is_toward_sun ? k_far_m : spot.most;
    return covered(alone, beam, spot, most, point) > k_least_cover;
  });
}

void Visibility::keep_near(const Codes& codes, const Beam& beam, const Spot& middle,
                           double radius_m, double least_deviation_m, Codes& near) const {
  near.clear();
  for (const std::uint32_t code : codes) {
    const auto meeting = meet_edge(scene_, code, middle.at, direction_of(beam, middle));
    if (meeting) {
      // Turns grow a little toward a rim.
      const double distance = std::abs(meeting->distance_m) + radius_m;
      const double moved = radius_m * (1.0 + 2.0 * beam.turn_rad_m * distance);
      const double blur =
          beam.profile.reach * std::hypot(beam.deviation_rad * distance, least_deviation_m);
      if (-meeting->inside_m > 1.1 * meeting->most_change * (moved + blur)) continue;
    }
    near.push_back(code);
  }
}

double Visibility::covered(const Codes& codes, const Beam& beam, const Spot& spot, double most,
                           const FacetNode& cell) const {
  // Facets lie side by side, so their shares add up; of solids, which stand one behind the other,
  // the greatest counts.
  double by_facets = 0.0;
  double by_solids = 0.0;
  for (const std::uint32_t code : codes) {
    const auto meeting = meet_edge(scene_, code, spot.at, direction_of(beam, spot));
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

/// Sums over the blocks of a piece.
struct Visibility::Gathering {
  Fates fates;
  double landed = 0.0;
  Vec2 first{0.0, 0.0};
  double uu = 0.0, uv_cross = 0.0, vv = 0.0;

  void add(const FacetNode& block, double share_landed) {
    landed += share_landed;
    first += share_landed * block.uv;
    uu += share_landed * (block.uu + block.uv.x * block.uv.x);
    uv_cross += share_landed * (block.uv_cross + block.uv.x * block.uv.y);
    vv += share_landed * (block.vv + block.uv.y * block.uv.y);
  }
};

SeenPiece Visibility::of(const FacetNode& piece, std::span<const FacetNode> parts, int depth) {
  SeenPiece seen{.lit = piece};
  if (is_clear()) return seen;
  BASE_CHECK(depth < static_cast<int>(near_.size()), "a piece is cut a few times only");
  Gathering sum;
  for (const FacetNode& part : parts) look(part, depth, shaders_, blockers_, sum);
  seen.fates = sum.fates;
  const double whole = piece.share;
  seen.fates.shaded /= whole;
  seen.fates.blocked /= whole;
  seen.fates.blocked_late /= whole;
  // To the last bit the piece where nothing took anything of it.
  if (!(sum.landed > 0.0) || !(sum.landed < (1.0 - 1e-9) * whole)) return seen;
  FacetNode& lit = seen.lit;
  lit.uv = sum.first / sum.landed;
  lit.uu = sum.uu / sum.landed - lit.uv.x * lit.uv.x;
  lit.uv_cross = sum.uv_cross / sum.landed - lit.uv.x * lit.uv.y;
  lit.vv = sum.vv / sum.landed - lit.uv.y * lit.uv.y;
  return seen;
}

void Visibility::look(const FacetNode& block, int depth, const Codes& shaders,
                      const Codes& blockers, Gathering& sum) {
  const Spot spot = spot_at(block.uv);
  if (depth > 0) {
    Near& near = near_[static_cast<std::size_t>(depth)];
    // Measured surfaces may turn anyhow, so nothing is said of the whole block by its middle.
    if (facet_.form == k_no_form) {
      const double radius_m = radius_of(block);
      const double least_m = std::ldexp(std::sqrt(block.uu + block.vv), -depth);
      keep_near(shaders, toward_sun_, spot, radius_m, least_m, near.shaders);
      keep_near(blockers, leaving_, spot, radius_m, least_m, near.blockers);
      if (near.shaders.empty() && near.blockers.empty() && !late_) {
        sum.add(block, block.share);
        return;
      }
    } else {
      near = {shaders, blockers};
    }
    for (const FacetNode& quarter : quarters(block)) {
      look(quarter, depth - 1, near.shaders, near.blockers, sum);
    }
    return;
  }
  const double shaded = covered(shaders, toward_sun_, spot, k_far_m, block);
  const double blocked = covered(blockers, leaving_, spot, spot.most * (1.0 - 1e-9), block);
  sum.fates.shaded += block.share * shaded;
  sum.fates.blocked += block.share * (1.0 - shaded) * blocked;
  double landed = block.share * (1.0 - shaded) * (1.0 - blocked);
  if (late_) {
    const Path path = go_on(scene_, facet_, spot.at, spot.leaving, {},
                            {.shading = false, .blocking = true, .rim = false});
    if (path.end == End::blocked && path.met_secondary) {
      sum.fates.blocked_late += landed;
      landed = 0.0;
    }
  }
  sum.add(block, landed);
}

}  // namespace optics
