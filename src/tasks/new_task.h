// The answer "new": a whole dish from a few wishes: layout, facets, mounts, secondary, receiver.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "dish/ranges.h"
#include "dish/recipes.h"

namespace tasks {

enum class LayoutKind { rings, lattice, petals };
enum class FacetShape { hexagon, square, disc };
enum class SurfaceKind { flat, spherical, paraboloid, off_axis };
enum class FrameKind { flat, parabolic, spherical };
enum class SecondaryKind { none, flat, hyperboloid, ellipsoid, sphere, paraboloid };
enum class SecondaryPlace { before_focus, beyond_focus };

/// Wishes for a new dish, in SI. What is absent follows from the rest as its words in
/// `new_numbers` and `new_words` say.
struct NewRequest {
  LayoutKind layout = LayoutKind::rings;
  std::string name = "New dish";
  std::optional<FacetShape> shape;
  std::optional<SurfaceKind> surface;
  std::optional<FrameKind> frame;
  SecondaryKind secondary = SecondaryKind::none;
  std::optional<SecondaryPlace> secondary_place;
  std::optional<std::vector<double>> leave_out;  ///< ring numbers
  std::optional<std::vector<double>> radii_m;    ///< bounds of the petal rings, inside outward
  std::optional<std::vector<double>> petals;     ///< petals of each ring
  dish::BracketLie bracket = dish::BracketLie::facet;
  dish::Side turned_from = dish::Side::back;

  std::optional<double> focal_length_m;
  std::optional<double> rings;
  std::optional<double> columns;
  std::optional<double> rows;
  std::optional<double> pitch_m;
  std::optional<double> row_pitch_m;
  std::optional<double> gap_m;
  std::optional<double> free_within_m;
  std::optional<double> free_beyond_m;
  std::optional<double> frame_z_m;
  std::optional<double> frame_radius_m;
  std::optional<double> facet_m;
  std::optional<double> surface_focal_length_m;
  std::optional<double> reflectance;
  std::optional<double> slope_error_rad;
  std::optional<double> specularity_error_rad;
  std::optional<double> receiver_z_m;
  std::optional<double> receiver_diameter_m;
  std::optional<double> receiver_width_m;
  std::optional<double> receiver_height_m;
  std::optional<double> absorptance;
  std::optional<double> secondary_z_m;
  std::optional<double> secondary_diameter_m;
  std::optional<double> secondary_hole_m;
  std::optional<double> secondary_radius_m;
  std::optional<double> secondary_magnification;
  std::optional<double> screw_radius_m;
  std::optional<double> screw_pitch_m;
  std::optional<double> travel_m;
  std::optional<double> clicks_per_turn;
  std::optional<double> dni_W_m2;
};

/// A wish that is a number: one row makes its key in a request, its option and its help.
struct NewNumber {
  const char* key;  ///< in a request; the option is the same with dashes
  dish::ranges::Quantity quantity;
  std::optional<double> NewRequest::*member;
  const char* words;  ///< what it is and what it is when absent
  std::optional<LayoutKind> only_with;
};
const std::vector<NewNumber>& new_numbers();

/// A wish that is a list of numbers.
struct NewList {
  const char* key;
  dish::ranges::Quantity quantity;
  std::optional<std::vector<double>> NewRequest::*member;
  const char* words;
  LayoutKind only_with;
};
const std::vector<NewList>& new_lists();

/// A wish that is a word.
struct NewWord {
  const char* key;
  std::vector<std::string> allowed;
  void (*set)(NewRequest&, std::size_t index);  ///< index into allowed
  const char* words;
};
const std::vector<NewWord>& new_words();

/// A wish in its file unit as SI. Problem: out of range; `place` is what the person wrote.
base::Result<double> wish_in_si(dish::ranges::Quantity quantity, const std::string& place,
                                double value);

/// The dish. Problems: a wish out of range or one that belongs to another layout, wishes that
/// contradict each other, and whatever dish::check calls an error.
base::Result<dish::Dish> make_dish(const NewRequest& request);

/// "rings", "lattice", "petals".
const char* to_text(LayoutKind layout);

}  // namespace tasks
