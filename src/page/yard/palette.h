// The yard's own colours, made from the theme's.
#pragma once

#include <glm/vec3.hpp>
#include <glm/vec4.hpp>

#include "page/look/theme.h"
#include "page/yard/mesh.h"

namespace yard {

/// The dark end of the map's ramp is kept for the map: on tiles it would read as a hole.
inline constexpr double k_tint_from = 0.18;

struct Palette {
  glm::vec3 upper, lower;                                                ///< behind everything
  glm::vec3 mirror_zenith, mirror_horizon, mirror_ground, mirror_glare;  ///< what mirrors show
  glm::vec3 tile_back, tile_edge;
  glm::vec3 accent;
  glm::vec3 in_light, in_shadow;  ///< painted on the glass: ends of the map's ramp
  glm::vec4 grid, shadow;
  glm::vec4 structure_line;
  glm::vec4 ray_in, ray_out, ray_lit;
  glm::vec4 sun_line;
  glm::vec3 sun_disc;
  bool light_covers = false;  ///< on bright paper light cannot add: it is laid over
};

Palette palette_of(const look::Theme& theme);

/// Colour of a solid body.
glm::vec3 colour_of(Ink ink, const look::Theme& theme);

glm::vec3 rgb(ImU32 colour);

}  // namespace yard
