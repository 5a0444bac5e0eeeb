// The table itself. Limits are generous: they keep out the impossible and the mistyped unit, not
// the unusual.
#include "dish/ranges.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "base/units.h"

namespace dish::ranges {
namespace {

using enum Quantity;
using enum Unit;

constexpr double deg(double value) { return base::rad_from_deg(value); }
constexpr double n_per_mm(double value) { return value * 1000.0; }

// Millimetres and milliradians are written with their power of ten, so that a limit is the same
// double as the decimal number of a file that meets it.
// clang-format off
constexpr std::array<Range, k_count> k_table{{
  // quantity, key, words, unit, least, most, fallback, step
  {focal_length, "focal_length_m", "focal length of the dish", metre, 0.05, 200.0, 2.0, 0.01},
  {sun_half_angle, "half_angle_mrad", "half angle of the sun's disc", milliradian, 0.1e-3, 50e-3, 4.65e-3, 0.05e-3},
  {limb_darkening, "limb_darkening", "darkening of the sun's limb, u in 1 - u (1 - mu)", none, 0.0, 1.0, 0.6, 0.01},
  {sun_sigma, "sigma_mrad", "standard deviation of a Gaussian sun per axis", milliradian, 0.1e-3, 50e-3, 2.8e-3, 0.05e-3},
  {circumsolar_ratio, "circumsolar_ratio", "share of the sun's light that comes from around its disc", none, 0.0, 0.8, 0.05, 0.01},
  {dni, "dni_W_m2", "direct normal irradiance", watt_per_m2, 1.0, 1500.0, 900.0, 10.0},
  {latitude, "latitude_deg", "latitude, north positive", site_degree, -90.0, 90.0, 0.0, 0.1},
  {longitude, "longitude_deg", "longitude, east positive", site_degree, -180.0, 180.0, 0.0, 0.1},
  {altitude, "altitude_m", "height above the sea", metre, -450.0, 9000.0, 0.0, 10.0},

  {across_flats, "across_flats_mm", "width of the hexagon across its flats", millimetre, 2e-3, 10000e-3, 230e-3, 1e-3},
  {outline_width, "width_mm", "width of the facet along u", millimetre, 2e-3, 10000e-3, 200e-3, 1e-3},
  {outline_height, "height_mm", "height of the facet along v", millimetre, 2e-3, 10000e-3, 200e-3, 1e-3},
  {outline_diameter, "diameter_mm", "diameter of the facet", millimetre, 2e-3, 10000e-3, 200e-3, 1e-3},
  {inner_radius, "inner_radius_mm", "inner radius of the petal", millimetre, 0.0, 50000e-3, 300e-3, 1e-3},
  {outer_radius, "outer_radius_mm", "outer radius of the petal", millimetre, 2e-3, 50000e-3, 600e-3, 1e-3},
  {opening, "opening_deg", "angle between the petal's straight edges", degree, deg(0.1), deg(180.0), 0.5, deg(0.5)},
  {corner, "corners_mm", "coordinate of a corner", millimetre, -10000e-3, 10000e-3, 100e-3, 1e-3},

  {surface_radius, "radius_m", "radius of curvature of the mirror, positive when hollow", metre, 0.05, 100000.0, 4.0, 0.01, Kind::either_sign},
  {surface_focal_length, "focal_length_m", "focal length of the mirror, positive when hollow", metre, 0.025, 50000.0, 2.0, 0.01, Kind::either_sign},
  {parent_focal_length, "focal_length_m", "focal length of the parent paraboloid", metre, 0.025, 50000.0, 2.0, 0.01},
  {off_axis, "off_axis_mm", "distance of the facet from the parent's axis", millimetre, 0.0, 100000e-3, 0.0, 1e-3},
  {meridian, "meridian_deg", "direction away from the parent's axis, from the u axis", degree, deg(-360.0), deg(360.0), 0.0, deg(1.0)},

  {reflectance, "reflectance", "share of sunlight reflected", none, 0.0, 1.0, 0.9, 0.01},
  {cleanliness, "cleanliness", "share of a clean mirror's reflectance that is left", none, 0.01, 1.0, 1.0, 0.01},
  {cover_thickness, "thickness_mm", "thickness of what covers the metal", millimetre, 0.001e-3, 50e-3, 3e-3, 0.1e-3},
  {slope_error, "slope_error_mrad", "slope error per axis, standard deviation", milliradian, 0.0, 100e-3, 2e-3, 0.1e-3},
  {specularity_error, "specularity_error_mrad", "specularity error per axis, standard deviation", milliradian, 0.0, 100e-3, 0.5e-3, 0.1e-3},

  {defocus, "defocus_mm", "sag at the facet's bounding radius, the same all around", millimetre, -50e-3, 50e-3, 0.0, 0.01e-3},
  {astigmatism_0, "astigmatism_0_mm", "sag at the facet's bounding radius, along u against along v", millimetre, -50e-3, 50e-3, 0.0, 0.01e-3},
  {astigmatism_45, "astigmatism_45_mm", "sag at the facet's bounding radius, along one diagonal against the other", millimetre, -50e-3, 50e-3, 0.0, 0.01e-3},
  {trefoil_0, "trefoil_0_mm", "sag at the facet's bounding radius, three times around from u", millimetre, -50e-3, 50e-3, 0.0, 0.01e-3},
  {trefoil_30, "trefoil_30_mm", "sag at the facet's bounding radius, three times around from 30 degrees", millimetre, -50e-3, 50e-3, 0.0, 0.01e-3},
  {roll_off_width, "width_mm", "width of the edge that leans back", millimetre, 0.1e-3, 5000e-3, 10e-3, 1e-3},
  {roll_off_slope, "slope_mrad", "lean of the surface at its very edge, back positive", milliradian, -300e-3, 300e-3, 2e-3, 0.1e-3},
  {map_first, "first_mm", "place of a sag map's first height", millimetre, -10000e-3, 10000e-3, 0.0, 1e-3},
  {map_step, "step_mm", "step of a sag map", millimetre, 0.01e-3, 5000e-3, 10e-3, 1e-3},
  {map_sag, "sag_mm", "measured height above the intended surface, toward the sun positive", millimetre, -200e-3, 200e-3, 0.0, 0.01e-3},

  {face_offset, "face_offset_mm", "ball plane to reflecting face", millimetre, -200e-3, 1000e-3, 12e-3, 0.5e-3},
  {standoff, "standoff_mm", "bracket to ball plane at nominal", millimetre, -200e-3, 2000e-3, 30e-3, 0.5e-3},
  {caliper_offset, "caliper_offset_mm", "added to a height to get the caliper's reading", millimetre, -1000e-3, 1000e-3, 0.0, 0.1e-3},
  {clicks_per_turn, "clicks_per_turn", "smallest steps a hand makes in one turn", none, 1.0, 360.0, 12.0, 1.0, Kind::whole},
  {backlash, "backlash_turns", "turned beyond and back to end in the loading direction", turn, 0.0, 5.0, 0.5, 0.25},
  {screw_x, "x_mm", "place of the screw on the bracket, right", millimetre, -5000e-3, 5000e-3, 0.0, 1e-3},
  {screw_y, "y_mm", "place of the screw on the bracket, up", millimetre, -5000e-3, 5000e-3, 0.0, 1e-3},
  {screw_pitch, "pitch_mm", "lead of the screw per turn", millimetre, 0.2e-3, 10e-3, 1e-3, 0.05e-3},
  {travel_min, "travel_min_mm", "furthest displacement toward the bracket", millimetre, -200e-3, 0.0, -6e-3, 0.5e-3},
  {travel_max, "travel_max_mm", "furthest displacement toward the sun", millimetre, 0.0, 200e-3, 6e-3, 0.5e-3},

  {free_length, "free_length_mm", "length of the spring without load", millimetre, 1e-3, 1000e-3, 30e-3, 0.5e-3},
  {solid_length, "solid_length_mm", "length of the spring with its coils touching", millimetre, 0.2e-3, 1000e-3, 12e-3, 0.5e-3},
  {installed_length, "installed_length_mm", "length of the spring with the screw at nominal", millimetre, 0.2e-3, 1000e-3, 22e-3, 0.5e-3},
  {spring_rate, "rate_N_mm", "rate of the spring", newton_per_mm, n_per_mm(0.001), n_per_mm(10000.0), n_per_mm(2.0), n_per_mm(0.1)},
  {least_force, "least_force_N", "least force that still holds the facet", newton, 0.0, 10000.0, 2.0, 0.5},

  {centre, "centre_mm", "coordinate of the facet's centre", millimetre, -50000e-3, 50000e-3, 0.0, 1e-3},
  {clocking, "clocking_deg", "turn of the facet about its normal", degree, deg(-360.0), deg(360.0), 0.0, deg(1.0)},
  {aim, "aim_mm", "aim point on the receiver from its centre", millimetre, -10000e-3, 10000e-3, 0.0, 1e-3},
  {displacement, "displacement_mm", "displacement of the screw from nominal, toward the sun positive", millimetre, -200e-3, 200e-3, 0.0, 0.05e-3},
  {direction, "direction", "component of a direction", none, -1000.0, 1000.0, 0.0, 0.01},

  {secondary_vertex, "vertex_mm", "coordinate of the secondary's vertex", millimetre, -200000e-3, 200000e-3, 0.0, 1e-3},
  {secondary_tilt, "tilt_mrad", "tilt of the secondary about its vertex", milliradian, -500e-3, 500e-3, 0.0, 0.1e-3},
  {secondary_diameter, "diameter_mm", "diameter of the secondary", millimetre, 2e-3, 20000e-3, 400e-3, 1e-3},
  {hole_diameter, "hole_diameter_mm", "diameter of the secondary's hole", millimetre, 0.0, 20000e-3, 0.0, 1e-3},
  {secondary_radius, "radius_m", "radius of the secondary, positive when it bulges toward the facets", metre, 0.01, 10000.0, 1.0, 0.01, Kind::either_sign},
  {secondary_magnification, "magnification", "focal length with the secondary over the one without", none, 0.05, 50.0, 4.0, 0.1},
  {secondary_focal_length, "focal_length_m", "focal length of the secondary, positive when it bulges toward the facets", metre, 0.005, 5000.0, 0.5, 0.01, Kind::either_sign},
  {near_focus_z, "near_focus_z_m", "height of the focus the facets send the light to", metre, -200.0, 200.0, 2.0, 0.01},
  {far_focus_z, "far_focus_z_m", "height of the focus the secondary sends the light to", metre, -200.0, 200.0, 0.1, 0.01},

  {receiver_centre, "centre_mm", "coordinate of the receiver's centre", millimetre, -200000e-3, 200000e-3, 0.0, 1e-3},
  {receiver_diameter, "diameter_mm", "diameter of the receiver", millimetre, 1e-3, 20000e-3, 200e-3, 1e-3},
  {receiver_width, "width_mm", "width of the receiver", millimetre, 1e-3, 20000e-3, 200e-3, 1e-3},
  {receiver_height, "height_mm", "height of the receiver", millimetre, 1e-3, 20000e-3, 200e-3, 1e-3},
  {absorptance, "absorptance", "share of the light the receiver takes", none, 0.0, 1.0, 0.92, 0.01},
  {blocker_place, "place_mm", "coordinate of a part that shades", millimetre, -200000e-3, 200000e-3, 0.0, 1e-3},
  {blocker_diameter, "diameter_mm", "diameter of a part that shades", millimetre, 0.1e-3, 20000e-3, 100e-3, 1e-3},
  {blocker_size, "size_mm", "length of a part that shades", millimetre, 0.1e-3, 100000e-3, 100e-3, 1e-3},

  {tracking_error, "tracking_error_mrad", "known pointing error of the dish", milliradian, -200e-3, 200e-3, 0.0, 0.1e-3},
  {lamp_position, "position_m", "coordinate of the lamp", metre, -100000.0, 100000.0, 25.0, 0.1},
  {board_centre, "centre_mm", "coordinate of the board's centre", millimetre, -200000e-3, 200000e-3, 0.0, 1e-3},
  {spot_seen, "seen_mm", "place of a spot on the board", millimetre, -50000e-3, 50000e-3, 0.0, 1e-3},
  {spot_sigma, "sigma_mm", "uncertainty of a spot's place per axis", millimetre, 0.001e-3, 5000e-3, 2e-3, 0.1e-3},
  {elevation, "elevation_deg", "elevation of the dish's axis above the horizon", degree, deg(-90.0), deg(90.0), deg(60.0), deg(1.0)},
  {lean_edge, "edge_deg", "direction the inclinometer points in, from the facet's x axis, anticlockwise seen from the sun", degree, deg(-360.0), deg(360.0), 0.0, deg(5.0)},
  {lean_reading, "reading_deg", "inclinometer's reading, rising positive", degree, deg(-90.0), deg(90.0), 0.0, deg(0.05)},
  {lean_reversed, "reversed_deg", "reading with the inclinometer turned end for end", degree, deg(-90.0), deg(90.0), 0.0, deg(0.05)},
  {lean_sigma, "sigma_deg", "uncertainty of an inclinometer's reading", degree, deg(0.0001), deg(10.0), deg(0.1), deg(0.01)},
  {gauge_place, "at_mm", "place on the bracket where a height was measured", millimetre, -5000e-3, 5000e-3, 0.0, 1e-3},
  {gauge_height, "height_mm", "height of the facet's back over the bracket", millimetre, -2000e-3, 3000e-3, 0.0, 0.05e-3},
  {gauge_sigma, "sigma_mm", "uncertainty of a measured height", millimetre, 0.0001e-3, 50e-3, 0.05e-3, 0.01e-3},
  {turns, "turns", "turns of a screw, clockwise positive", turn, -500.0, 500.0, 0.0, 0.25},

  {aim_radius, "radius_mm", "radius of a pattern of aims on the receiver", millimetre, 0.0, 10000e-3, 0.0, 1e-3},

  {ring_count, "rings", "number of hexagonal rings around the centre", none, 0.0, 57.0, 3.0, 1.0, Kind::whole},
  {column_count, "columns", "number of columns", none, 1.0, 10000.0, 5.0, 1.0, Kind::whole},
  {row_count, "rows", "number of rows", none, 1.0, 10000.0, 5.0, 1.0, Kind::whole},
  {petal_count, "petals", "number of petals in a ring", none, 2.0, 10000.0, 12.0, 1.0, Kind::whole},
  {layout_pitch, "pitch_mm", "distance between the centres of neighbours", millimetre, 2e-3, 10000e-3, 250e-3, 1e-3},
  {layout_gap, "gap_mm", "gap between neighbours", millimetre, 0.0, 1000e-3, 10e-3, 1e-3},
  {layout_radius, "radius_mm", "distance of facet centres from the axis", millimetre, 0.0, 50000e-3, 0.0, 1e-3},
  {frame_z, "frame_z_mm", "height of a flat frame above the vertex", millimetre, -50000e-3, 50000e-3, 0.0, 1e-3},
  {frame_radius, "frame_radius_m", "radius of a spherical frame", metre, 0.05, 1000.0, 4.0, 0.01},

  {magnification, "magnification", "magnification of the secondary", none, 0.05, 100.0, 3.0, 0.05},
  {flux_limit, "limit_W_m2", "greatest flux wanted on the receiver", watt_per_m2, 1e3, 5e7, 2e5, 1e4},
  {share_given_up, "most_loss", "share of the watts that may be given up", none, 0.0, 0.5, 0.01, 0.005},
  {wanted_concentration, "mean_concentration", "mean concentration wanted", none, 1.0, 46000.0, 300.0, 10.0},
  {board_side, "board_mm", "side of the board", millimetre, 100e-3, 10000e-3, 430e-3, 5e-3},
  {before_focus, "before_focus_mm", "distance of the board before the focus", millimetre, 0.0, 20000e-3, 0.0, 5e-3},
  {tilt_prior, "tilt_prior_mrad", "how far facets stand off, per axis", milliradian, 0.1e-3, 100e-3, 3e-3, 0.1e-3},
}};
// clang-format on

constexpr bool in_order() {
  for (std::size_t i = 0; i < k_count; ++i) {
    if (k_table[i].quantity != static_cast<Quantity>(i)) return false;
  }
  return true;
}
static_assert(in_order(), "the table stands in the order of the enumeration");

}  // namespace

const Range& of(Quantity quantity) {
  CHECK(quantity < count_, "a quantity is one of the table's");
  return k_table[static_cast<std::size_t>(quantity)];
}

bool in_range(Quantity quantity, double si) {
  if (!std::isfinite(si)) return false;
  const Range& range = of(quantity);
  const double judged = range.kind == Kind::either_sign ? std::abs(si) : si;
  // A limit that went through a change of unit may be off by its rounding.
  constexpr double k_rounding = 1e-15;
  if (judged < range.least - k_rounding * std::abs(range.least)) return false;
  if (judged > range.most + k_rounding * std::abs(range.most)) return false;
  return range.kind != Kind::whole || std::nearbyint(si) == si;
}

const char* unit_text(Unit unit) {
  switch (unit) {
    case metre:
      return "m";
    case millimetre:
      return "mm";
    case milliradian:
      return "mrad";
    case degree:
    case site_degree:
      return "deg";
    case watt_per_m2:
      return "W/m2";
    case newton:
      return "N";
    case newton_per_mm:
      return "N/mm";
    case turn:
      return "turns";
    case none:
      break;
  }
  return "";
}

double in_unit(Unit unit, double si) {
  switch (unit) {
    case millimetre:
      return base::mm_from_m(si);
    case milliradian:
      return base::mrad_from_rad(si);
    case degree:
      return base::deg_from_rad(si);
    case newton_per_mm:
      return si / 1000.0;
    default:
      return si;
  }
}

double si_from(Unit unit, double value) {
  switch (unit) {
    case millimetre:
      return base::m_from_mm(value);
    case milliradian:
      return base::rad_from_mrad(value);
    case degree:
      return base::rad_from_deg(value);
    case newton_per_mm:
      return value * 1000.0;
    default:
      return value;
  }
}

std::string range_text(Quantity quantity) {
  const Range& range = of(quantity);
  std::string text = fmt::format("{:.9g} to {:.9g}", in_unit(range.unit, range.least) + 0.0,
                                 in_unit(range.unit, range.most) + 0.0);
  if (range.unit != none) text += fmt::format(" {}", unit_text(range.unit));
  if (range.kind == Kind::either_sign) text += ", positive or negative";
  if (range.kind == Kind::whole) text += ", a whole number";
  return text;
}

std::string value_text(Quantity quantity, double si) {
  const Range& range = of(quantity);
  if (std::isnan(si)) return "not a number";
  std::string text = fmt::format("{:.6g}", in_unit(range.unit, si));
  if (range.unit != none) text += fmt::format(" {}", unit_text(range.unit));
  return text;
}

std::optional<base::Problem> problem_of(Quantity quantity, double si, const std::string& place) {
  if (in_range(quantity, si)) return std::nullopt;
  const Range& range = of(quantity);
  const std::string where = place.empty() ? range.key : place + ", " + range.key;
  return base::Problem{.place = where,
                       .value = value_text(quantity, si),
                       .expected = std::string(range.words) + " from " + range_text(quantity)};
}

}  // namespace dish::ranges
