// Two-mirror systems beyond the table in concentrators.h: outside values.
#pragma once

namespace references {

/// A telescope as built: radius of the primary 11.04 m, of the secondary 1.358 m (bulging), 4.90607
/// m apart. Height ratio, magnification, focal length, back focus behind the primary's vertex,
/// secondary to focus, and the conic constant of a hyperboloid for a true paraboloid primary.
/// Tolerance: half a unit of the last digit.
inline constexpr const char* k_built_telescope_source =
    "prescription of the Hubble optical telescope assembly (value from memory); Schroeder, "
    "Astronomical Optics, ch. 2";
struct BuiltTelescope {
  double primary_radius = 11.04, secondary_radius = 1.358, separation = 4.90607;
  double k = .1112192, m = 10.434916, focal_length = 57.60074, focal_ratio = 24.0003;
  double to_focus = 6.406308, back_focus = 1.500238, conic = -1.468892;
  double diameter = 2.4;
};
inline constexpr BuiltTelescope k_built_telescope{};

}  // namespace references
