// One mirror tile: its kind, its place, where it aims, and where its adjusters stand now.
#pragma once

#include <array>
#include <optional>

#include "base/vec.h"
#include "dish/coating.h"
#include "dish/form_error.h"
#include "dish/ids.h"
#include "dish/mount.h"
#include "dish/outline.h"
#include "dish/surface.h"

namespace dish {

/// A kind of facet, named once and shared.
struct FacetType {
  FacetTypeName name;
  Outline outline = Hexagon{};
  Surface surface = Spherical{};
  double reflectance = 0.9;               ///< 0..1, solar weighted, where there is no coating
  std::optional<Coating> coating;         ///< what the reflectance is computed from
  double cleanliness = 1.0;               ///< share of the clean mirror's reflectance that is left
  double slope_error_rad = 0.002;         ///< standard deviation per axis of the normal
  double specularity_error_rad = 0.0005;  ///< standard deviation per axis of the reflected ray
  FormError form_error;                   ///< from `surface`
};

struct Facet {
  FacetId id;
  FacetTypeName type;
  MountName mount;
  base::Vec3 centre_m{0.0, 0.0, 0.0};  ///< nominal centre of the reflecting surface
  double clocking_rad = 0.0;           ///< turn about the normal
  base::Vec2 aim_m{0.0, 0.0};          ///< (right, up) on the receiver from its centre
  std::optional<base::Vec3> normal;    ///< unit; when absent the facet is canted to its aim
  std::optional<Bracket> bracket;      ///< when absent it follows from the mount
  std::array<double, 3> displacement_m{0.0, 0.0, 0.0};  ///< as built, from nominal, + to the sun
  SharedSagMap sag_map;  ///< measured on this facet, in place of its type's
};

}  // namespace dish
