// Lines in space: rays of light, the frame's rings, the way to the sun.
#pragma once

#include <glm/vec3.hpp>
#include <glm/vec4.hpp>
#include <vector>

#include "dish/dish.h"
#include "optics/scene.h"
#include "page/yard/camera.h"
#include "page/yard/ground.h"
#include "page/yard/palette.h"

namespace yard {

struct Ribbon {
  glm::vec3 from;
  glm::vec3 to;
  glm::vec4 colour_from;
  glm::vec4 colour_to;
  float width = 1.0f;  ///< CSS pixels
};
using Ribbons = std::vector<Ribbon>;

/// `each` rays of every facet, thin; of very many an even selection of facets.
void add_rays(Ribbons& ribbons, const optics::Scene& scene, int each, const Ground& ground,
              const Palette& palette);

/// The rays of one facet, bright; at least its chief ray.
void add_lit_rays(Ribbons& ribbons, const optics::Scene& scene, std::size_t facet, int each,
                  const Ground& ground, const Palette& palette);

/// The sun: where its disc is shown, and light coming from it.
struct SunPlace {
  base::Vec3 disc_world;
  base::Vec3 toward_world;
  double radius_m;
};
SunPlace sun_place(const optics::Scene& scene, const Ground& ground);

/// Seen along its own direction the sun is left out: its place beside the dish would mislead.
bool shows_sun(const SunPlace& sun, const Camera& camera);

void add_sun_lines(Ribbons& ribbons, const SunPlace& sun, const Ground& ground,
                   const Camera& camera, const Palette& palette);

}  // namespace yard
