// Two coats of the same yard: dusk for the lamp theme, haze at midday for the noon theme.
#include "page/yard/palette.h"

#include "page/look/ramp.h"

namespace yard {

glm::vec3 rgb(ImU32 colour) {
  const ImVec4 parts = ImGui::ColorConvertU32ToFloat4(colour);
  return {parts.x, parts.y, parts.z};
}

Palette palette_of(const look::Theme& theme) {
  const bool lamp = theme.name == look::ThemeName::lamp;
  const glm::vec3 ink = rgb(theme.ink);
  const glm::vec3 copper = rgb(theme.copper);
  Palette palette;
  palette.upper = rgb(theme.sky);
  palette.lower = rgb(theme.earth);
  palette.accent = copper;
  palette.tile_edge = lamp ? glm::vec3(0.06f, 0.07f, 0.08f) : glm::vec3(0.25f, 0.23f, 0.20f);
  palette.tile_back = lamp ? glm::vec3(0.265f, 0.25f, 0.235f) : glm::vec3(0.50f, 0.465f, 0.42f);
  palette.mirror_zenith = lamp ? glm::vec3(0.23f, 0.30f, 0.37f) : glm::vec3(0.46f, 0.60f, 0.70f);
  palette.mirror_horizon = lamp ? glm::vec3(0.66f, 0.68f, 0.66f) : glm::vec3(0.93f, 0.93f, 0.90f);
  palette.mirror_ground = lamp ? glm::vec3(0.20f, 0.19f, 0.17f) : glm::vec3(0.66f, 0.62f, 0.54f);
  palette.mirror_glare = lamp ? glm::vec3(0.62f, 0.47f, 0.30f) : glm::vec3(0.40f, 0.33f, 0.20f);
  palette.grid = {ink, lamp ? 0.13f : 0.20f};
  palette.shadow =
      lamp ? glm::vec4(0.0f, 0.0f, 0.0f, 0.42f) : glm::vec4(0.25f, 0.21f, 0.14f, 0.24f);
  palette.structure_line = {ink, lamp ? 0.24f : 0.40f};
  palette.ray_in = {ink, lamp ? 0.16f : 0.24f};
  palette.ray_out = {lamp ? glm::vec3(0.95f, 0.78f, 0.52f) : glm::vec3(0.62f, 0.40f, 0.12f),
                     lamp ? 0.15f : 0.22f};
  palette.ray_lit = {copper, 1.0f};
  palette.sun_line = {rgb(theme.doubt), lamp ? 0.75f : 0.85f};
  palette.sun_disc = lamp ? glm::vec3(1.0f, 0.86f, 0.58f) : glm::vec3(0.85f, 0.58f, 0.12f);
  const look::Rgb bright = look::ramp(1.0);
  const look::Rgb dark = look::ramp(k_tint_from);
  palette.in_light = glm::vec3(bright.red, bright.green, bright.blue);
  palette.in_shadow = glm::vec3(dark.red, dark.green, dark.blue);
  palette.light_covers = !lamp;
  return palette;
}

glm::vec3 colour_of(Ink ink, const look::Theme& theme) {
  const bool lamp = theme.name == look::ThemeName::lamp;
  switch (ink) {
    case Ink::structure:
      return lamp ? glm::vec3(0.33f, 0.33f, 0.34f) : glm::vec3(0.56f, 0.54f, 0.50f);
    case Ink::screw:
      return lamp ? glm::vec3(0.55f, 0.50f, 0.44f) : glm::vec3(0.36f, 0.33f, 0.29f);
    case Ink::screw_lit:
      return rgb(theme.copper);
    case Ink::secondary:
      return lamp ? glm::vec3(0.46f, 0.48f, 0.50f) : glm::vec3(0.74f, 0.76f, 0.77f);
    case Ink::person:
      return lamp ? glm::vec3(0.175f, 0.185f, 0.195f) : glm::vec3(0.80f, 0.77f, 0.71f);
    case Ink::receiver:
      return lamp ? glm::vec3(0.20f, 0.18f, 0.17f) : glm::vec3(0.30f, 0.27f, 0.24f);
  }
  return {0.5f, 0.5f, 0.5f};
}

}  // namespace yard
