// The table of ranges: sound in itself, the same as the structs' defaults, and plain in its words.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "dish/defaults.h"
#include "dish/ranges.h"
#include "dish/recipes.h"

namespace {

using dish::ranges::Kind;
using dish::ranges::Quantity;
using dish::ranges::Range;

template <class Act>
void for_each_quantity(Act act) {
  for (std::size_t i = 0; i < dish::ranges::k_count; ++i) act(static_cast<Quantity>(i));
}

bool ends_with(const std::string& text, const std::string& end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

}  // namespace

TEST_CASE("every entry is a range with a step, and starts within itself") {
  for_each_quantity([](Quantity quantity) {
    const Range& range = dish::ranges::of(quantity);
    CAPTURE(range.key);
    CHECK(range.quantity == quantity);
    CHECK(range.least < range.most);
    CHECK(range.step > 0.0);
    CHECK(range.step < range.most - range.least);
    CHECK(dish::ranges::in_range(quantity, range.fallback));
    CHECK(std::string(range.words).size() > 3);
  });
}

TEST_CASE("every key ends in its unit, save bare numbers") {
  for_each_quantity([](Quantity quantity) {
    const Range& range = dish::ranges::of(quantity);
    std::string unit = dish::ranges::unit_text(range.unit);
    for (char& letter : unit) letter = letter == '/' ? '_' : letter;
    CAPTURE(range.key);
    if (!unit.empty()) CHECK(ends_with(range.key, unit));
  });
}

TEST_CASE("limits belong to the range, what is beyond them does not, nor NaN and infinities") {
  for_each_quantity([](Quantity quantity) {
    const Range& range = dish::ranges::of(quantity);
    CAPTURE(range.key);
    CHECK(dish::ranges::in_range(quantity, range.least));
    CHECK(dish::ranges::in_range(quantity, range.most));
    CHECK_FALSE(dish::ranges::in_range(quantity, range.most + range.step));
    if (range.kind != Kind::either_sign)
      CHECK_FALSE(dish::ranges::in_range(quantity, range.least - range.step));
    CHECK_FALSE(dish::ranges::in_range(quantity, std::numeric_limits<double>::quiet_NaN()));
    CHECK_FALSE(dish::ranges::in_range(quantity, std::numeric_limits<double>::infinity()));
    CHECK_FALSE(dish::ranges::in_range(quantity, -std::numeric_limits<double>::infinity()));
  });
}

TEST_CASE("a limit that is typed in the unit of files is in range") {
  for_each_quantity([](Quantity quantity) {
    const Range& range = dish::ranges::of(quantity);
    CAPTURE(range.key);
    for (const double limit : {range.least, range.most}) {
      const double typed = dish::ranges::in_unit(range.unit, limit);
      CHECK(dish::ranges::in_range(quantity, dish::ranges::si_from(range.unit, typed)));
    }
  });
}

TEST_CASE("a curvature may bend both ways but is never zero") {
  CHECK(dish::ranges::in_range(Quantity::surface_radius, 4.0));
  CHECK(dish::ranges::in_range(Quantity::surface_radius, -4.0));
  CHECK_FALSE(dish::ranges::in_range(Quantity::surface_radius, 0.0));
  CHECK_FALSE(dish::ranges::in_range(Quantity::surface_radius, -0.01));
}

TEST_CASE("counts are whole") {
  CHECK(dish::ranges::in_range(Quantity::clicks_per_turn, 12.0));
  CHECK_FALSE(dish::ranges::in_range(Quantity::clicks_per_turn, 12.5));
}

TEST_CASE("the text of a range is in the unit of files") {
  CHECK(dish::ranges::range_text(Quantity::screw_pitch) == "0.2 to 10 mm");
  CHECK(dish::ranges::range_text(Quantity::latitude) == "-90 to 90 deg");
  CHECK(dish::ranges::range_text(Quantity::reflectance) == "0 to 1");
  CHECK(dish::ranges::range_text(Quantity::clicks_per_turn) == "1 to 360, a whole number");
  CHECK(dish::ranges::range_text(Quantity::surface_radius) ==
        "0.05 to 100000 m, positive or negative");
  CHECK(dish::ranges::range_text(Quantity::spring_rate) == "0.001 to 10000 N/mm");
  CHECK(dish::ranges::range_text(Quantity::opening) == "0.1 to 180 deg");
}

TEST_CASE("a value reads in its unit") {
  CHECK(dish::ranges::value_text(Quantity::screw_pitch, 0.00125) == "1.25 mm");
  CHECK(dish::ranges::value_text(Quantity::spring_rate, 2500.0) == "2.5 N/mm");
  CHECK(dish::ranges::value_text(Quantity::reflectance, 0.93) == "0.93");
  CHECK(dish::ranges::value_text(Quantity::reflectance, std::numeric_limits<double>::quiet_NaN()) ==
        "not a number");
}

TEST_CASE("a problem names place, key, value and range") {
  CHECK_FALSE(dish::ranges::problem_of(Quantity::screw_pitch, 0.001, "mount M6, screw 1"));
  const auto problem = dish::ranges::problem_of(Quantity::screw_pitch, 0.02, "mount M6, screw 1");
  REQUIRE(problem.has_value());
  CHECK(
      base::to_line(*problem) ==
      "mount M6, screw 1, pitch_mm: 20 mm; expected lead of the screw per turn from 0.2 to 10 mm");
}

TEST_CASE("the structs start with the table's values") {
  const auto starts_with = [](Quantity quantity, double si) {
    CAPTURE(dish::ranges::of(quantity).key);
    CHECK(dish::ranges::of(quantity).fallback == si);
  };
  starts_with(Quantity::focal_length, dish::Dish{}.focal_length_m);
  starts_with(Quantity::sun_half_angle, dish::Sun{}.half_angle_rad);
  starts_with(Quantity::limb_darkening, dish::LimbDarkenedSun{}.coefficient);
  starts_with(Quantity::sun_sigma, dish::GaussianSun{}.sigma_rad);
  starts_with(Quantity::circumsolar_ratio, dish::CircumsolarSun{}.ratio);
  starts_with(Quantity::cleanliness, dish::FacetType{}.cleanliness);
  starts_with(Quantity::cover_thickness, dish::Coating{}.thickness_m);
  starts_with(Quantity::defocus, dish::FormError{}.defocus_m);
  starts_with(Quantity::roll_off_width, dish::EdgeRollOff{}.width_m);
  starts_with(Quantity::roll_off_slope, dish::EdgeRollOff{}.slope_rad);
  starts_with(Quantity::map_step, dish::SagMap{}.step_m.x);
  starts_with(Quantity::dni, dish::Sun{}.dni_W_m2);
  starts_with(Quantity::across_flats, dish::Hexagon{}.across_flats_m);
  starts_with(Quantity::outline_width, dish::Rectangle{}.width_m);
  starts_with(Quantity::outline_diameter, dish::Disc{}.diameter_m);
  starts_with(Quantity::inner_radius, dish::AnnularSector{}.inner_radius_m);
  starts_with(Quantity::outer_radius, dish::AnnularSector{}.outer_radius_m);
  starts_with(Quantity::opening, dish::AnnularSector{}.opening_rad);
  starts_with(Quantity::surface_radius, dish::Spherical{}.radius_m);
  starts_with(Quantity::surface_focal_length, dish::Paraboloid{}.focal_length_m);
  starts_with(Quantity::reflectance, dish::FacetType{}.reflectance);
  starts_with(Quantity::slope_error, dish::FacetType{}.slope_error_rad);
  starts_with(Quantity::specularity_error, dish::FacetType{}.specularity_error_rad);
  starts_with(Quantity::face_offset, dish::Mount{}.face_offset_m);
  starts_with(Quantity::standoff, dish::Mount{}.standoff_m);
  starts_with(Quantity::clicks_per_turn, dish::Mount{}.clicks_per_turn);
  starts_with(Quantity::backlash, dish::Mount{}.backlash_turns);
  starts_with(Quantity::screw_pitch, dish::Adjuster{}.pitch_m);
  starts_with(Quantity::travel_min, dish::Adjuster{}.travel_min_m);
  starts_with(Quantity::travel_max, dish::Adjuster{}.travel_max_m);
  starts_with(Quantity::free_length, dish::Spring{}.free_length_m);
  starts_with(Quantity::solid_length, dish::Spring{}.solid_length_m);
  starts_with(Quantity::installed_length, dish::Spring{}.installed_length_m);
  starts_with(Quantity::spring_rate, dish::Spring{}.rate_N_m);
  starts_with(Quantity::least_force, dish::Spring{}.least_force_N);
  starts_with(Quantity::secondary_diameter, dish::Secondary{}.diameter_m);
  starts_with(Quantity::receiver_diameter, dish::DiscReceiver{}.diameter_m);
  starts_with(Quantity::absorptance, dish::Receiver{}.absorptance);
  starts_with(Quantity::ring_count, dish::RingsLayout{}.rings);
  starts_with(Quantity::layout_pitch, dish::RingsLayout{}.pitch_m);
  starts_with(Quantity::column_count, dish::LatticeLayout{}.columns);
  starts_with(Quantity::petal_count, dish::PetalRing{}.count);
  starts_with(Quantity::layout_gap, dish::PetalsLayout{}.gap_m);
}
