// The facets as curved tiles: every one stands as built, bent as its surface is.
#pragma once

#include <cstdint>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <vector>

#include "base/vec.h"
#include "optics/scene.h"

namespace yard {

struct TileVertex {
  glm::vec3 position;     ///< world, m
  glm::vec3 normal;       ///< unit, toward the sun on the mirror, outward on back and sides
  float edge = 0.0f;      ///< mirror: 1 in the middle, 0 at the edge; back and sides: 2 more
  float facet = 0.0f;     ///< index in the dish
  glm::vec2 place{0.0f};  ///< on the facet's bounding square, 0..1 each
};

struct Tiles {
  std::vector<TileVertex> vertices;
  std::vector<std::uint32_t> indices;
};

/// The mesh in the world frame. Finer for few facets, coarser for many.
Tiles make_tiles(const optics::Scene& scene, const base::Pose& world_from_dish);

}  // namespace yard
