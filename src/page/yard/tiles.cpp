// Rings of points from the middle to the edge, lifted onto the facet's surface; then a thin back.
#include "page/yard/tiles.h"

#include <algorithm>
#include <cmath>

#include "optics/outline.h"
#include "optics/quadric.h"

namespace yard {
namespace {

constexpr double k_shown_thickness_m = 0.006;
constexpr float k_back = 2.0f;
constexpr std::size_t k_most_with_sides = 1500;

// How finely a tile is cut: rings from the middle to the edge, cuts of each straight edge.
struct Fineness {
  int rings;
  int cuts;
  int round_steps;
};

Fineness fineness_for(std::size_t facets) {
  if (facets <= 150) return {.rings = 4, .cuts = 4, .round_steps = 48};
  if (facets <= k_most_with_sides) return {.rings = 2, .cuts = 2, .round_steps = 24};
  return {.rings = 1, .cuts = 1, .round_steps = 12};
}

std::vector<base::Vec2> cut_edges(const std::vector<base::Vec2>& corners, int cuts) {
  if (corners.size() > 8) return corners;
  std::vector<base::Vec2> points;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const base::Vec2 next = corners[(i + 1) % corners.size()];
    for (int cut = 0; cut < cuts; ++cut) {
      points.push_back(corners[i] + (static_cast<double>(cut) / cuts) * (next - corners[i]));
    }
  }
  return points;
}

struct Tile {
  base::Pose world_from_facet;
  optics::Quadric surface;
  float facet = 0.0f;
  double radius_m = 1.0;  ///< of the outline's bounding circle
};

base::Vec3 lift(const Tile& tile, const base::Vec2& place) {
  const double height = optics::sag(tile.surface, place.x, place.y);
  return {place.x, place.y, std::isfinite(height) ? height : 0.0};
}

void push(Tiles& tiles, const Tile& tile, const base::Vec3& point, const base::Vec3& normal,
          float edge) {
  tiles.vertices.push_back({glm::vec3(base::point_to_outer(tile.world_from_facet, point)),
                            glm::vec3(base::direction_to_outer(tile.world_from_facet, normal)),
                            edge, tile.facet,
                            glm::vec2(0.5 + 0.5 * base::Vec2(point) / tile.radius_m)});
}

void triangle(Tiles& tiles, std::uint32_t a, std::uint32_t b, std::uint32_t c) {
  tiles.indices.insert(tiles.indices.end(), {a, b, c});
}

void add_mirror(Tiles& tiles, const Tile& tile, const std::vector<base::Vec2>& edge, int rings) {
  const auto first = static_cast<std::uint32_t>(tiles.vertices.size());
  push(tiles, tile, {0.0, 0.0, 0.0}, {0.0, 0.0, 1.0}, 1.0f);
  for (int ring = 1; ring <= rings; ++ring) {
    const double share = static_cast<double>(ring) / rings;
    for (const base::Vec2& corner : edge) {
      const base::Vec3 point = lift(tile, share * corner);
      push(tiles, tile, point, optics::normal_at(tile.surface, point),
           static_cast<float>(1.0 - share));
    }
  }
  const auto around = static_cast<std::uint32_t>(edge.size());
  for (std::uint32_t i = 0; i < around; ++i) {
    const std::uint32_t next = (i + 1) % around;
    triangle(tiles, first, first + 1 + i, first + 1 + next);
    for (std::uint32_t ring = 1; ring < static_cast<std::uint32_t>(rings); ++ring) {
      const std::uint32_t inner = first + 1 + (ring - 1) * around;
      const std::uint32_t outer = inner + around;
      triangle(tiles, inner + i, outer + i, outer + next);
      triangle(tiles, inner + i, outer + next, inner + next);
    }
  }
}

void add_back(Tiles& tiles, const Tile& tile, const std::vector<base::Vec2>& edge) {
  const base::Vec3 down{0.0, 0.0, -k_shown_thickness_m};
  const auto first = static_cast<std::uint32_t>(tiles.vertices.size());
  push(tiles, tile, down, {0.0, 0.0, -1.0}, k_back + 1.0f);
  for (const base::Vec2& corner : edge) {
    push(tiles, tile, lift(tile, corner) + down, {0.0, 0.0, -1.0}, k_back);
  }
  const auto around = static_cast<std::uint32_t>(edge.size());
  for (std::uint32_t i = 0; i < around; ++i) {
    triangle(tiles, first, first + 1 + (i + 1) % around, first + 1 + i);
  }
}

void add_side(Tiles& tiles, const Tile& tile, const std::vector<base::Vec2>& edge) {
  const base::Vec3 down{0.0, 0.0, -k_shown_thickness_m};
  const auto first = static_cast<std::uint32_t>(tiles.vertices.size());
  for (const base::Vec2& corner : edge) {
    const double length = std::max(glm::length(corner), 1e-9);
    const base::Vec3 outward{corner.x / length, corner.y / length, 0.0};
    push(tiles, tile, lift(tile, corner), outward, k_back);
    push(tiles, tile, lift(tile, corner) + down, outward, k_back);
  }
  const auto around = static_cast<std::uint32_t>(edge.size());
  for (std::uint32_t i = 0; i < around; ++i) {
    const std::uint32_t a = first + 2 * i;
    const std::uint32_t b = first + 2 * ((i + 1) % around);
    triangle(tiles, a, a + 1, b);
    triangle(tiles, b, a + 1, b + 1);
  }
}

}  // namespace

Tiles make_tiles(const optics::Scene& scene, const base::Pose& world_from_dish) {
  const Fineness fineness = fineness_for(scene.facets.size());
  std::vector<std::vector<base::Vec2>> outlines;
  for (const optics::Edge& edge : scene.edges) {
    outlines.push_back(cut_edges(optics::boundary(edge, fineness.round_steps), fineness.cuts));
  }
  Tiles tiles;
  for (std::size_t i = 0; i < scene.facets.size(); ++i) {
    const optics::SceneFacet& facet = scene.facets[i];
    const base::Pose& pose = facet.dish_from_facet;
    const Tile tile{.world_from_facet = {base::point_to_outer(world_from_dish, pose.origin),
                                         world_from_dish.axes * pose.axes},
                    .surface = facet.surface,
                    .facet = static_cast<float>(i),
                    .radius_m = scene.edges[facet.edge].bounding_radius_m};
    const std::vector<base::Vec2>& outline = outlines[facet.edge];
    add_mirror(tiles, tile, outline, fineness.rings);
    add_back(tiles, tile, outline);
    if (scene.facets.size() <= k_most_with_sides) add_side(tiles, tile, outline);
  }
  return tiles;
}

}  // namespace yard
