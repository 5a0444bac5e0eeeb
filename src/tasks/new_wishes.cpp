// The table of wishes for a new dish: keys, ranges and words, for requests, options and help.
#include "tasks/new_task.h"

namespace tasks {
namespace {

using dish::ranges::Quantity;

constexpr auto k_rings = LayoutKind::rings;
constexpr auto k_lattice = LayoutKind::lattice;
constexpr auto k_petals = LayoutKind::petals;

}  // namespace

const char* to_text(LayoutKind layout) {
  switch (layout) {
    case LayoutKind::rings:
      return "rings";
    case LayoutKind::lattice:
      return "lattice";
    case LayoutKind::petals:
      return "petals";
  }
  return "";
}

const std::vector<NewNumber>& new_numbers() {
  using R = NewRequest;
  static const std::vector<NewNumber> numbers{
      {"focal_length_m",
       Quantity::focal_length,
       &R::focal_length_m,
       "Focal length of the parent paraboloid; default 2.",
       {}},
      {"rings", Quantity::ring_count, &R::rings,
       "Number of the outermost ring around the centre; default 3.", k_rings},
      {"columns", Quantity::column_count, &R::columns, "Facets in a row; default 5.", k_lattice},
      {"rows", Quantity::row_count, &R::rows, "Facets in a column; default 5.", k_lattice},
      {"pitch_mm",
       Quantity::layout_pitch,
       &R::pitch_m,
       "Distance between the centres of neighbours; default: facet and gap.",
       {}},
      {"row_pitch_mm", Quantity::layout_pitch, &R::row_pitch_m,
       "The same between rows, where it differs from the one within a row.", k_lattice},
      {"gap_mm",
       Quantity::layout_gap,
       &R::gap_m,
       "Gap between neighbours; default 20, for petals 10.",
       {}},
      {"free_within_mm", Quantity::layout_radius, &R::free_within_m,
       "Leave out facets whose centre is nearer to the axis than this; default 0.", k_lattice},
      {"free_beyond_mm", Quantity::layout_radius, &R::free_beyond_m,
       "Leave out facets whose centre is farther from the axis than this.", k_lattice},
      {"frame_z_mm",
       Quantity::frame_z,
       &R::frame_z_m,
       "Height of a flat frame above the vertex; default 0.",
       {}},
      {"frame_radius_m",
       Quantity::frame_radius,
       &R::frame_radius_m,
       "Radius of a spherical frame; default twice the focal length.",
       {}},
      {"facet_mm",
       Quantity::across_flats,
       &R::facet_m,
       "Size of a facet: across the flats of a hexagon, side of a square, diameter of a disc; "
       "default 230, or what pitch and gap leave.",
       {}},
      {"surface_focal_length_m",
       Quantity::surface_focal_length,
       &R::surface_focal_length_m,
       "Focal length of each facet; default that of the dish.",
       {}},
      {"reflectance",
       Quantity::reflectance,
       &R::reflectance,
       "Share of sunlight the facets reflect; default 0.9.",
       {}},
      {"slope_error_mrad",
       Quantity::slope_error,
       &R::slope_error_rad,
       "Standard deviation of the facets' normals per axis; default 2.",
       {}},
      {"specularity_error_mrad",
       Quantity::specularity_error,
       &R::specularity_error_rad,
       "Standard deviation of the reflected ray per axis; default 0.5.",
       {}},
      {"receiver_z_mm",
       Quantity::receiver_centre,
       &R::receiver_z_m,
       "Height of the receiver above the vertex; default the focal length, with a secondary a "
       "twentieth of it.",
       {}},
      {"receiver_diameter_mm",
       Quantity::receiver_diameter,
       &R::receiver_diameter_m,
       "Diameter of a round receiver; default 200.",
       {}},
      {"receiver_width_mm",
       Quantity::receiver_width,
       &R::receiver_width_m,
       "Width of a rectangular receiver.",
       {}},
      {"receiver_height_mm",
       Quantity::receiver_height,
       &R::receiver_height_m,
       "Height of a rectangular receiver; default its width.",
       {}},
      {"absorptance",
       Quantity::absorptance,
       &R::absorptance,
       "Share of its light the receiver takes; default 0.92.",
       {}},
      {"secondary_z_mm",
       Quantity::secondary_vertex,
       &R::secondary_z_m,
       "Height of the secondary's vertex; default four fifths of the focal length, six fifths for "
       "an ellipsoid, half way between focus and receiver when flat.",
       {}},
      {"secondary_diameter_mm",
       Quantity::secondary_diameter,
       &R::secondary_diameter_m,
       "Diameter of the secondary; default wide enough for the facets' light and a tenth more.",
       {}},
      {"secondary_hole_mm",
       Quantity::hole_diameter,
       &R::secondary_hole_m,
       "Diameter of the secondary's hole; default 0.",
       {}},
      {"secondary_radius_m",
       Quantity::secondary_radius,
       &R::secondary_radius_m,
       "Radius of a curved secondary at its vertex, positive when it bulges toward the facets; "
       "default what sends light for the focus to the receiver. Any two of "
       "secondary_magnification, "
       "receiver_z_mm, secondary_z_mm and this give the rest.",
       {}},
      {"secondary_magnification",
       Quantity::secondary_magnification,
       &R::secondary_magnification,
       "Focal length with a curved secondary over the one without; its place follows from this and "
       "one more of secondary_z_mm, receiver_z_mm, secondary_radius_m and secondary_diameter_mm.",
       {}},
      {"screw_radius_mm",
       Quantity::layout_radius,
       &R::screw_radius_m,
       "Circle that the three screws stand on; default 80, at most 0.35 of the facet.",
       {}},
      {"screw_pitch_mm",
       Quantity::screw_pitch,
       &R::screw_pitch_m,
       "Lead of a screw in one turn; default 1.",
       {}},
      {"travel_mm",
       Quantity::travel_max,
       &R::travel_m,
       "How far each screw goes from nominal either way; default 6.",
       {}},
      {"clicks_per_turn",
       Quantity::clicks_per_turn,
       &R::clicks_per_turn,
       "Smallest steps a hand makes in one turn; default 12.",
       {}},
      {"dni_W_m2", Quantity::dni, &R::dni_W_m2, "Direct normal irradiance; default 900.", {}},
  };
  return numbers;
}

const std::vector<NewList>& new_lists() {
  using R = NewRequest;
  static const std::vector<NewList> lists{
      {"leave_out", Quantity::ring_count, &R::leave_out,
       "Numbers of rings without facets; 0 is the centre; default 0.", k_rings},
      {"radii_mm", Quantity::outer_radius, &R::radii_m,
       "Bounds of the rings of petals from the inside outward; default 300,600.", k_petals},
      {"petals", Quantity::petal_count, &R::petals, "Petals in each of these rings; default 12.",
       k_petals},
  };
  return lists;
}

const std::vector<NewWord>& new_words() {
  static const std::vector<NewWord> words{
      {"layout",
       {"rings", "lattice", "petals"},
       [](NewRequest& r, std::size_t k) { r.layout = static_cast<LayoutKind>(k); },
       "How the facets lie: hexagonal rings, straight rows and columns, or petals; default rings."},
      {"shape",
       {"hexagon", "square", "disc"},
       [](NewRequest& r, std::size_t k) { r.shape = static_cast<FacetShape>(k); },
       "Outline of the facets; default hexagon for rings, square for a lattice."},
      {"surface",
       {"flat", "spherical", "paraboloid", "off-axis"},
       [](NewRequest& r, std::size_t k) { r.surface = static_cast<SurfaceKind>(k); },
       "Form of the facets' surface; off-axis: each its own piece of one paraboloid; default "
       "spherical."},
      {"frame",
       {"flat", "parabolic", "spherical"},
       [](NewRequest& r, std::size_t k) { r.frame = static_cast<FrameKind>(k); },
       "What the facets' centres lie on; default flat for a lattice, else parabolic."},
      {"secondary",
       {"none", "flat", "hyperboloid", "ellipsoid", "sphere", "paraboloid"},
       [](NewRequest& r, std::size_t k) { r.secondary = static_cast<SecondaryKind>(k); },
       "A mirror that folds the light back to a receiver that faces up; default none."},
      {"secondary_place",
       {"before-focus", "beyond-focus"},
       [](NewRequest& r, std::size_t k) { r.secondary_place = static_cast<SecondaryPlace>(k); },
       "Which side of the facets' focus a spherical or paraboloid secondary stands on; default "
       "before it."},
      {"bracket",
       {"facet", "aperture"},
       [](NewRequest& r, std::size_t k) { r.bracket = static_cast<dish::BracketLie>(k); },
       "What the brackets lie parallel to: each its own facet, or the aperture; default facet."},
      {"turned_from",
       {"back", "front"},
       [](NewRequest& r, std::size_t k) { r.turned_from = static_cast<dish::Side>(k); },
       "Side from which the screws are turned; default back."},
  };
  return words;
}

}  // namespace tasks
