// The parts of a dish that light meets besides its facets.
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "base/vec.h"
#include "dish/coating.h"
#include "dish/sun_shape.h"

namespace dish {

/// Flat secondary: a plane through the vertex, facing the facets.
struct FlatSecondary {};

/// Sphere: radius > 0 bulges toward the facets (convex to them), < 0 is hollow toward them.
struct SphereSecondary {
  double radius_m = 1.0;
};

/// Paraboloid: focal length > 0 bulges toward the facets, < 0 is hollow toward them.
struct ParaboloidSecondary {
  double focal_length_m = 0.5;
};

/// Hyperboloid between the facets and their focus: foci on the axis, convex to the facets.
struct HyperboloidSecondary {
  double near_focus_z_m = 2.0;  ///< where the facets send the light
  double far_focus_z_m = 0.1;   ///< where the secondary sends it
};

/// Ellipsoid beyond the facets' focus: foci on the axis, hollow to the facets.
struct EllipsoidSecondary {
  double near_focus_z_m = 2.0;
  double far_focus_z_m = 0.1;
};

using SecondaryForm = std::variant<FlatSecondary, HyperboloidSecondary, EllipsoidSecondary,
                                   SphereSecondary, ParaboloidSecondary>;

struct Secondary {
  SecondaryForm form = FlatSecondary{};
  base::Vec3 vertex_m{0.0, 0.0, 1.6};  ///< in the dish frame; x, y are its decentre
  base::Vec2 tilt_rad{0.0, 0.0};       ///< about x and y through the vertex
  double diameter_m = 0.4;
  double hole_diameter_m = 0.0;
  double reflectance = 0.9;  ///< where there is no coating
  double slope_error_rad = 0.0;
  double specularity_error_rad = 0.0;
  std::optional<Coating> coating;  ///< what the reflectance is computed from
  double cleanliness = 1.0;        ///< share of the clean mirror's reflectance that is left
};

struct DiscReceiver {
  double diameter_m = 0.2;
};
struct RectangleReceiver {
  double width_m = 0.2;   ///< along right
  double height_m = 0.2;  ///< along up
};
using ReceiverShape = std::variant<DiscReceiver, RectangleReceiver>;

struct Receiver {
  ReceiverShape shape = DiscReceiver{};
  base::Vec3 centre_m{0.0, 0.0, 2.0};
  base::Vec3 lit_normal{0.0, 0.0, -1.0};  ///< unit; the side that takes the light faces this way
  base::Vec3 up{0.0, 1.0, 0.0};           ///< projected into the plane
  double absorptance = 0.92;              ///< 0..1
  bool shades = true;                     ///< its back blocks sunlight on the way in
};

/// Things that only stop light. Names are for people.
struct DiscBlocker {
  base::Vec3 centre_m{0.0, 0.0, 0.0};
  base::Vec3 normal{0.0, 0.0, 1.0};
  double diameter_m = 0.1;
};
struct BoxBlocker {
  base::Vec3 centre_m{0.0, 0.0, 0.0};
  base::Vec3 x{1.0, 0.0, 0.0};
  base::Vec3 y{0.0, 1.0, 0.0};
  base::Vec3 size_m{0.1, 0.1, 0.1};  ///< whole lengths along its own x, y, z
};
/// A round tube from one end to the other, closed at the ends.
struct TubeBlocker {
  base::Vec3 from_m{0.0, 0.0, 0.0};
  base::Vec3 to_m{0.0, 0.0, 1.0};
  double diameter_m = 0.02;
};
struct Blocker {
  std::string name;
  std::variant<DiscBlocker, BoxBlocker, TubeBlocker> shape;
};

/// The light the dish is judged by.
struct Sun {
  double half_angle_rad = 0.00465;  ///< radius of the disc
  double dni_W_m2 = 900.0;          ///< with the aureole, where the shape has one
  SunShape shape = PillboxSun{};
};

struct Site {
  std::string name;
  double latitude_deg = 0.0;   ///< north positive
  double longitude_deg = 0.0;  ///< east positive
  double altitude_m = 0.0;
};

}  // namespace dish
