// Triangles for the graphics card, and the few solid bodies the yard is built of.
#pragma once

#include <cstdint>
#include <glm/vec3.hpp>
#include <vector>

#include "base/vec.h"

namespace yard {

/// Kinds of surface the solid shader tells apart; colours come from the theme.
enum class Ink { structure, screw, screw_lit, secondary, person, receiver };

struct SolidVertex {
  glm::vec3 position;  ///< world, m
  glm::vec3 normal;    ///< unit, or zero for a flat silhouette that takes no light
  Ink ink = Ink::structure;
};

struct Solids {
  std::vector<SolidVertex> vertices;
  std::vector<std::uint32_t> indices;
};

/// A circle in space: centre, unit axis, radius.
struct Ring {
  base::Vec3 centre;
  base::Vec3 axis;
  double radius_m;
};

void add_disc(Solids& solids, const Ring& ring, Ink ink, int steps = 32);
void add_tube(Solids& solids, const base::Vec3& from, const base::Vec3& to, double radius_m,
              Ink ink, int steps = 12);
/// A flat plate with a front at `ring` and a back `thickness` behind it, against the axis.
void add_plate(Solids& solids, const Ring& ring, double thickness_m, Ink ink, int steps = 48);
/// A box by its pose and whole lengths.
void add_box(Solids& solids, const base::Pose& world_from_box, const base::Vec3& size_m, Ink ink);
/// A convex polygon, anticlockwise as seen from `normal`.
void add_polygon(Solids& solids, const std::vector<base::Vec3>& corners, const base::Vec3& normal,
                 Ink ink);

}  // namespace yard
