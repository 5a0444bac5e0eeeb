// A small fixed set of traced rays, sorted into pieces of the facet.
#include "optics/visibility.h"

#include <algorithm>
#include <cmath>

#include "base/sobol.h"
#include "optics/cone.h"
#include "optics/facet_nodes.h"
#include "optics/path.h"
#include "optics/ray_draw.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

constexpr int k_rays = 512;
constexpr int k_pieces = 24;
constexpr std::uint64_t k_seed = 0x5eed;

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

/// Whether light from the edge and the middle meets the secondary's glass with five deviations to
/// spare.
bool is_well_within_rim(const Scene& scene, const SceneFacet& facet) {
  const SecondaryMirror& mirror = *scene.secondary;
  const double angle = scene.sun_profile.reach_sine +
                       5.0 * (2.0 * facet.slope_error_rad + facet.specularity_error_rad);
  double least = HUGE_VAL;
  double most = 0.0;
  double reach = 0.0;
  std::vector<Vec2> places = boundary(scene.edges[facet.edge], 16);
  places.emplace_back(0.0, 0.0);
  for (const Vec2& place : places) {
    Path path;
    land_chief(scene, facet, place, path);
    if (!path.met_secondary) return false;
    const Vec3 local = base::point_to_inner(mirror.dish_from_secondary, path.secondary_point);
    const double distance = std::hypot(local.x, local.y);
    least = std::min(least, distance);
    most = std::max(most, distance);
    reach = std::max(reach, angle * glm::distance(path.secondary_point, path.facet_point));
  }
  const bool is_off_hole = mirror.hole_radius_m == 0.0 || least - reach > mirror.hole_radius_m;
  return is_off_hole && most + reach < mirror.rim_radius_m;
}

bool needs_rays(const Scene& scene, const SceneFacet& facet) {
  if (facet.shaders.count + facet.blockers.count > 0) return true;
  if (!scene.secondary) return false;
  return !is_last_stretch_clear(scene) || !is_well_within_rim(scene, facet);
}

std::size_t nearest_piece(const std::vector<Visibility::Piece>& pieces, const Vec2& uv) {
  std::size_t best = 0;
  double least = HUGE_VAL;
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    const Vec2 way = pieces[k].uv - uv;
    const double square = glm::dot(way, way);
    if (square < least) {
      least = square;
      best = k;
    }
  }
  return best;
}

void enter(const Path& path, Fates& fates) {
  switch (path.end) {
    case End::shaded:
      fates.shaded += 1.0;
      break;
    case End::blocked:
      (path.met_secondary ? fates.blocked_late : fates.blocked) += 1.0;
      break;
    case End::missed_secondary:
      fates.missed += 1.0;
      break;
    case End::lost:
      fates.lost += 1.0;
      break;
    case End::landed:
      break;
  }
}

void scale(Fates& fates, double factor) {
  fates.shaded *= factor;
  fates.blocked *= factor;
  fates.blocked_late *= factor;
  fates.missed *= factor;
  fates.lost *= factor;
}

}  // namespace

Fates Visibility::at(const Vec2& uv) const {
  return pieces.empty() ? Fates{} : pieces[nearest_piece(pieces, uv)].fates;
}

bool touches_last_stretch(const Scene& scene, std::size_t facet) {
  return scene.secondary && touches_last_stretch(scene, scene.facets[facet].bounds);
}

bool is_last_stretch_clear(const Scene& scene) {
  if (!scene.secondary) return true;
  for (std::size_t k = scene.receiver_shades ? 1 : 0; k < scene.obstacles.size(); ++k) {
    if (touches_last_stretch(scene, scene.obstacles[k].bounds)) return false;
  }
  for (std::size_t k = 0; k < scene.facets.size(); ++k) {
    if (touches_last_stretch(scene, k)) return false;
  }
  return true;
}

Visibility find_visibility(const Scene& scene, std::size_t index) {
  const SceneFacet& facet = scene.facets[index];
  Visibility visibility;
  if (!needs_rays(scene, facet)) return visibility;
  const Edge& edge = scene.edges[facet.edge];
  for (const FacetNode& node : facet_nodes(edge, k_pieces)) {
    visibility.pieces.push_back({node.uv, {}});
  }
  std::vector<double> counts(visibility.pieces.size(), 0.0);
  base::Sobol points(k_seed, static_cast<std::uint32_t>(index), 0, 0);
  for (int ray = 0; ray < k_rays; ++ray) {
    double x[k_ray_dimensions];
    points.next(x, k_ray_dimensions);
    const Vec2 uv = sample(edge, x[0], x[1]);
    const FacetPoint start = facet_point(scene, facet, uv);
    const Path path = follow(scene, facet, start, sun_ray(scene, x[2], x[3]),
                             draw_turns(scene, facet, x), Tests{});
    const std::size_t piece = nearest_piece(visibility.pieces, uv);
    enter(path, visibility.pieces[piece].fates);
    counts[piece] += 1.0;
  }
  const bool is_all_landed =
      std::all_of(visibility.pieces.begin(), visibility.pieces.end(),
                  [](const Visibility::Piece& piece) { return piece.fates.landed() == 1.0; });
  if (is_all_landed) return {};
  for (std::size_t k = 0; k < counts.size(); ++k) {
    if (counts[k] > 0.0) scale(visibility.pieces[k].fates, 1.0 / counts[k]);
  }
  return visibility;
}

}  // namespace optics
