// The one table of ranges: what each number of a dish is called in a file, what it means, and the
// least and most it may be. The reader, the checker, the edits and every input field use it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

#include "base/result.h"

namespace dish::ranges {

/// Every number that a person can give. Grouped by the part of the dish it belongs to.
enum class Quantity : std::uint8_t {
  // the dish, its sun and its site
  focal_length,
  sun_half_angle,
  limb_darkening,
  sun_sigma,
  circumsolar_ratio,
  dni,
  latitude,
  longitude,
  altitude,
  // outlines
  across_flats,
  outline_width,
  outline_height,
  outline_diameter,
  inner_radius,
  outer_radius,
  opening,
  corner,
  // surfaces
  surface_radius,
  surface_focal_length,
  parent_focal_length,
  off_axis,
  meridian,
  // mirrors (facet types and the secondary)
  reflectance,
  cleanliness,
  cover_thickness,
  slope_error,
  specularity_error,
  // form errors of facets
  defocus,
  astigmatism_0,
  astigmatism_45,
  trefoil_0,
  trefoil_30,
  roll_off_width,
  roll_off_slope,
  map_first,
  map_step,
  map_sag,
  // mounts and adjusters
  face_offset,
  standoff,
  caliper_offset,
  clicks_per_turn,
  backlash,
  screw_x,
  screw_y,
  screw_pitch,
  travel_min,
  travel_max,
  // springs
  free_length,
  solid_length,
  installed_length,
  spring_rate,
  least_force,
  // facets
  centre,
  clocking,
  aim,
  displacement,
  direction,
  // secondary
  secondary_vertex,
  secondary_tilt,
  secondary_diameter,
  hole_diameter,
  secondary_radius,
  secondary_magnification,
  secondary_focal_length,
  near_focus_z,
  far_focus_z,
  // receiver and blockers
  receiver_centre,
  receiver_diameter,
  receiver_width,
  receiver_height,
  absorptance,
  blocker_place,
  blocker_diameter,
  blocker_size,
  // rounds
  tracking_error,
  lamp_position,
  board_centre,
  spot_seen,
  spot_sigma,
  elevation,
  lean_edge,
  lean_reading,
  lean_reversed,
  lean_sigma,
  gauge_place,
  gauge_height,
  gauge_sigma,
  turns,
  // patterns of aims
  aim_radius,
  // layouts
  ring_count,
  column_count,
  row_count,
  petal_count,
  layout_pitch,
  layout_gap,
  layout_radius,
  frame_z,
  frame_radius,
  // searches and solvers
  magnification,
  flux_limit,
  share_given_up,
  wanted_concentration,
  // photographs of the board
  board_side,
  before_focus,
  tilt_prior,
  count_  ///< how many there are; not a quantity
};

inline constexpr std::size_t k_count = static_cast<std::size_t>(Quantity::count_);

/// Units of files and of messages. Inside, everything is SI (m, rad, N/m).
enum class Unit : std::uint8_t {
  none,
  metre,
  millimetre,
  milliradian,
  degree,       ///< radians inside
  site_degree,  ///< degrees inside as well: places on the earth
  watt_per_m2,
  newton,
  newton_per_mm,
  turn,
};

/// How the limits are meant.
enum class Kind : std::uint8_t {
  plain,        ///< least <= value <= most
  either_sign,  ///< least <= |value| <= most: a curvature may bend both ways, but is never zero
  whole,        ///< least <= value <= most, and a whole number
};

struct Range {
  Quantity quantity;
  const char* key;    ///< as it stands in a file, with its unit
  const char* words;  ///< what it is, for a person
  Unit unit;
  double least;     ///< SI
  double most;      ///< SI
  double fallback;  ///< SI; what a new thing starts with
  double step;      ///< SI; a comfortable step for an input field
  Kind kind = Kind::plain;
};

/// The entry of a quantity.
const Range& of(Quantity quantity);

/// Whether an SI value may stand in a dish. NaN and infinities never may.
bool in_range(Quantity quantity, double si);

/// "mm", "m", "mrad", "deg", "W/m2", ...; empty for a bare number.
const char* unit_text(Unit unit);

/// From SI to the unit of files and messages, and back. Exact inverses up to rounding; both go
/// through base/units.h, so that the same text always gives the same bits.
double in_unit(Unit unit, double si);
double si_from(Unit unit, double value);

/// "0.2 to 10 mm"; "0.05 to 1000 m, positive or negative"; "1 to 360, a whole number".
std::string range_text(Quantity quantity);

/// "0.25 mm": an SI value in the quantity's unit, with as many digits as tell it apart by eye
/// (six significant ones).
std::string value_text(Quantity quantity, double si);

/// Nothing when the value is in range, else a problem that names place, value and range. `place`
/// is where the thing stands ("facet A3", "mount M, screw 2"); the key is added to it.
std::optional<base::Problem> problem_of(Quantity quantity, double si, const std::string& place);

}  // namespace dish::ranges
