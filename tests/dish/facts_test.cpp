// Geometry of whole dishes: laws, closed forms, and the handbook's table of rim angles.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "base/units.h"
#include "dish/defaults.h"
#include "dish/facts.h"
#include "dish/outline_facts.h"
#include "dish/recipes.h"
#include "support/outside.h"

namespace {

using base::Vec2;
using base::Vec3;
using dish::Dish;

constexpr const char* k_rim_source =
    "Stine & Geyer, Power From The Sun, ch. 8; Duffie & Beckman, Solar Engineering of Thermal "
    "Processes, ch. 7 (both from memory): rim angles";

Dish dish_of(const dish::Outline& outline, const std::vector<Vec3>& centres) {
  Dish dish = dish::default_dish();
  dish.facet_types[0].outline = outline;
  dish.facets.clear();
  for (const Vec3& centre : centres)
    dish.facets.push_back({.id = {"F" + std::to_string(dish.facets.size())},
                           .type = dish.facet_types[0].name,
                           .mount = dish.mounts[0].name,
                           .centre_m = centre});
  return dish;
}

}  // namespace

TEST_CASE("mirror area is the sum of the facets' areas") {
  const Dish dish = dish::default_dish();
  REQUIRE(dish.facets.size() == 36);
  CHECK(dish::mirror_area_m2(dish) ==
        doctest::Approx(36.0 * std::sqrt(3.0) / 2.0 * 0.23 * 0.23).epsilon(1e-13));
}

TEST_CASE("the aperture of four squares is the square around them") {
  const Dish dish =
      dish_of(dish::Rectangle{0.4, 0.4},
              {{0.25, 0.25, 0.1}, {-0.25, 0.25, 0.0}, {-0.25, -0.25, 0.0}, {0.25, -0.25, 0.7}});
  const dish::Aperture aperture = dish::aperture_of(dish);
  CHECK(aperture.hull.size() == 4);
  CHECK(aperture.area_m2 == doctest::Approx(0.81).epsilon(1e-14));
  CHECK(aperture.rim_radius_m == doctest::Approx(0.45 * std::sqrt(2.0)).epsilon(1e-14));
}

TEST_CASE("clocking turns a facet within the aperture") {
  Dish dish = dish_of(dish::Rectangle{0.4, 0.2}, {{0.0, 0.0, 0.0}});
  dish.facets[0].clocking_rad = base::k_pi / 2.0;
  const dish::Aperture aperture = dish::aperture_of(dish);
  double widest = 0.0;
  for (const Vec2& corner : aperture.hull) widest = std::max(widest, std::abs(corner.x));
  CHECK(widest == doctest::Approx(0.1).epsilon(1e-14));
  CHECK(aperture.area_m2 == doctest::Approx(0.08).epsilon(1e-14));
}

TEST_CASE("the rim of discs is exact though their hull is drawn with points") {
  const Dish dish = dish_of(dish::Disc{0.3}, {{0.3, 0.4, 0.0}});
  CHECK(dish::aperture_of(dish).rim_radius_m == doctest::Approx(0.65).epsilon(1e-15));
  CHECK(dish::aperture_of(dish).area_m2 ==
        doctest::Approx(dish::outline_area(dish::Disc{0.3})).epsilon(7.2e-4));
}

TEST_CASE("the aperture holds every facet, and more than the mirrors when there are gaps") {
  const Dish dish = dish::default_dish();
  const dish::Aperture aperture = dish::aperture_of(dish);
  for (const dish::Facet& facet : dish.facets)
    CHECK(dish::contains(aperture.hull, Vec2(facet.centre_m)));
  CHECK(aperture.area_m2 > dish::mirror_area_m2(dish));
  CHECK(aperture.area_m2 < base::k_pi * aperture.rim_radius_m * aperture.rim_radius_m);
}

TEST_CASE("without facets there is no aperture and no rim") {
  Dish dish;
  CHECK(dish::aperture_of(dish).hull.empty());
  CHECK(dish::aperture_of(dish).area_m2 == 0.0);
  CHECK(dish::mirror_area_m2(dish) == 0.0);
  CHECK(dish::rim_angle_rad(dish) == 0.0);
}

TEST_CASE("rim angles of whole paraboloids, by focal ratio") {
  constexpr std::array<std::array<double, 2>, 11> table{{{0.25, 90.0},
                                                         {0.3, 79.6111},
                                                         {0.4, 64.0108},
                                                         {0.5, 53.1301},
                                                         {0.6, 45.2397},
                                                         {0.7, 39.3076},
                                                         {0.8, 34.7080},
                                                         {1.0, 28.0725},
                                                         {1.5, 18.9246},
                                                         {2.0, 14.2500},
                                                         {3.0, 9.5273}}};
  constexpr double pins[11] = {90,
                               79.6111421845,
                               64.0107664162,
                               53.1301023542,
                               45.2397298961,
                               39.3076481161,
                               34.7080492725,
                               28.0724869359,
                               18.9246444161,
                               14.2500326978,
                               9.52728338145};
  for (std::size_t k = 0; k < table.size(); ++k) {
    const auto& [ratio, degrees] = table[k];
    for (const double diameter : {0.5, 3.7}) {
      const double rim = dish::paraboloid_rim_angle_rad(ratio * diameter, diameter);
      CHECK(std::abs(base::deg_from_rad(rim) - degrees) <= 5.0e-5);
    }
    support::check_outside({.what = fmt::format("rim angle at f/D {}, deg", ratio),
                            .source = k_rim_source,
                            .outside = degrees,
                            .ours = base::deg_from_rad(dish::paraboloid_rim_angle_rad(ratio, 1.0)),
                            .tolerance = 5e-5,
                            .why = support::k_half_digit,
                            .pin = pins[k]});
  }
}

TEST_CASE("focal ratios of whole paraboloids, by rim angle") {
  constexpr std::array<std::array<double, 2>, 7> table{{{15.0, 1.898939},
                                                        {30.0, 0.933013},
                                                        {40.0, 0.686869},
                                                        {45.0, 0.603553},
                                                        {60.0, 0.433013},
                                                        {75.0, 0.325806},
                                                        {90.0, 0.25}}};
  constexpr double pins[7] = {
      14.9999963155, 29.9999908467, 40.0000190273, 45.000026219, 59.9999658394, 75.0000582999, 90};
  for (std::size_t k = 0; k < table.size(); ++k) {
    const auto& [degrees, ratio] = table[k];
    const double diameter = 1.3;
    const double f = diameter / (4.0 * std::tan(base::rad_from_deg(degrees) / 2.0));
    CHECK(std::abs(dish::focal_ratio(f, diameter) - ratio) <= 5.0e-7);
    CHECK(dish::paraboloid_rim_angle_rad(f, diameter) ==
          doctest::Approx(base::rad_from_deg(degrees)).epsilon(1e-14));
    // The angle that belongs to the table's ratio, rounded to six digits.
    support::check_outside({.what = fmt::format("rim angle back from f/D {}, deg", ratio),
                            .source = k_rim_source,
                            .outside = degrees,
                            .ours = base::deg_from_rad(dish::paraboloid_rim_angle_rad(ratio, 1.0)),
                            .tolerance = 1e-4,
                            .why = "half a last digit of the ratio",
                            .pin = pins[k]});
  }
}

TEST_CASE("facets on the frame of a paraboloid lie as far from the focus as its closed form says") {
  constexpr std::array<std::array<double, 2>, 11> table{{{0.25, 2.0},
                                                         {0.3, 1.694444},
                                                         {0.4, 1.390625},
                                                         {0.5, 1.25},
                                                         {0.6, 1.173611},
                                                         {0.7, 1.127551},
                                                         {0.8, 1.097656},
                                                         {1.0, 1.0625},
                                                         {1.5, 1.027778},
                                                         {2.0, 1.015625},
                                                         {3.0, 1.006944}}};
  constexpr double pins[11] = {
      2,          1.69444444444, 1.390625,      1.25,     1.17361111111, 1.12755102041,
      1.09765625, 1.0625,        1.02777777778, 1.015625, 1.00694444444};
  for (std::size_t k = 0; k < table.size(); ++k) {
    const auto& [ratio, distance] = table[k];
    const double r = 0.5 / ratio;  // rim of a dish with f = 1
    const auto z = dish::frame_height(dish::ParabolicFrame{}, 1.0, r);
    REQUIRE(z.has_value());
    support::check_outside({.what = fmt::format("rim to focus at f/D {}, over f", ratio),
                            .source =
                                "Stine & Geyer, ch. 8; Duffie & Beckman, ch. 7 (from memory): "
                                "p/f = 1/cos^2(phi/2)",
                            .outside = distance,
                            .ours = std::hypot(r, 1.0 - *z),
                            .tolerance = 5e-7,
                            .why = support::k_half_digit,
                            .pin = pins[k]});
  }
}

TEST_CASE("the rim angle of small facets on the paraboloid tends to the closed form") {
  // Facets of 4 mm at a radius of 1 m, f = 1.5 m: what is left is half a facet.
  const double z = 1.0 / 6.0;
  Dish dish = dish_of(dish::Disc{0.004}, {{1.0, 0.0, z}, {0.0, 1.0, z}, {-1.0, 0.0, z}});
  dish.focal_length_m = 1.5;
  const double rim = dish::paraboloid_rim_angle_rad(1.5, 2.0);
  CHECK(dish::rim_angle_rad(dish) > rim);
  CHECK(dish::rim_angle_rad(dish) == doctest::Approx(rim).epsilon(2e-3));
}

TEST_CASE("a rim above the focus has a rim angle beyond 90 degrees") {
  Dish dish = dish_of(dish::Disc{0.1}, {{1.0, 0.0, 2.5}, {-1.0, 0.0, 2.5}});
  dish.focal_length_m = 2.0;
  CHECK(dish::rim_angle_rad(dish) > base::k_pi / 2.0);
}

// Source: bisector of the sun's and the aim's direction, worked for f = 1.5 m at r = 0.6 m on the
// paraboloid: (-0.19611614, 0, 0.98058068), 11.309932 degrees (tan = r / 2f, closed form).
// Tolerance: half a unit of the last digit.
TEST_CASE("a facet on the paraboloid that sends the sun to the focus lies along its surface") {
  const Vec3 n = dish::prime_focus_normal({0.6, 0.0, 0.06}, 1.5);
  CHECK(std::abs(n.x + 0.19611614) < 5e-9);
  CHECK(n.y == 0.0);
  CHECK(std::abs(n.z - 0.98058068) < 5e-9);
  CHECK(std::abs(base::deg_from_rad(std::acos(n.z)) - 11.309932) < 5e-7);
  // Off the paraboloid as well: (0.6, 0.45, 0.09) gives (-0.19359968, -0.14519976, 0.97027635).
  const Vec3 off = dish::prime_focus_normal({0.6, 0.45, 0.09}, 1.5);
  CHECK(std::abs(off.x + 0.19359968) < 5e-9);
  CHECK(std::abs(off.y + 0.14519976) < 5e-9);
  CHECK(std::abs(off.z - 0.97027635) < 5e-9);
}

TEST_CASE("where no normal sends the sun to the focus it is the axis") {
  CHECK(dish::prime_focus_normal({0.0, 0.0, 2.0}, 2.0) == Vec3{0.0, 0.0, 1.0});
  CHECK(dish::prime_focus_normal({0.0, 0.0, 3.0}, 2.0) == Vec3{0.0, 0.0, 1.0});
  CHECK(dish::prime_focus_normal({0.0, 0.0, 0.0}, 2.0) == Vec3{0.0, 0.0, 1.0});
}

TEST_CASE("corners of a facet stand square to its normal and keep their distances") {
  const Dish dish = dish::default_dish();
  for (const dish::Facet& facet : dish.facets) {
    const Vec3 n = dish::prime_focus_normal(facet.centre_m, dish.focal_length_m);
    for (const Vec3& corner :
         dish::facet_corners(facet, dish::Hexagon{0.23}, dish.focal_length_m)) {
      CHECK(std::abs(glm::dot(corner - facet.centre_m, n)) < 1e-15);
      CHECK(glm::distance(corner, facet.centre_m) ==
            doctest::Approx(0.23 / std::sqrt(3.0)).epsilon(1e-13));
    }
  }
}

TEST_CASE("facets are counted by type, in the dish's order") {
  Dish dish = dish::default_dish();
  dish.facet_types.push_back(dish::default_facet_type());
  dish.facet_types.back().name = {"square"};
  for (std::size_t i = 0; i < 5; ++i) dish.facets[i].type = {"square"};
  const auto counts = dish::count_types(dish);
  REQUIRE(counts.size() == 2);
  CHECK(counts[0].type.text == "hexagon");
  CHECK(counts[0].facets == 31);
  CHECK(counts[1].facets == 5);
}

TEST_CASE("receivers and the concentration of areas") {
  dish::Receiver receiver{.shape = dish::DiscReceiver{0.2}};
  CHECK(dish::receiver_area_m2(receiver) == doctest::Approx(0.01 * base::k_pi));
  receiver.shape = dish::RectangleReceiver{0.2, 0.3};
  CHECK(dish::receiver_area_m2(receiver) == doctest::Approx(0.06));
  Dish dish = dish_of(dish::Rectangle{0.9, 0.9}, {{0.0, 0.0, 0.0}});
  dish.receiver.shape = dish::RectangleReceiver{0.09, 0.09};
  CHECK(dish::geometric_concentration(dish) == doctest::Approx(100.0).epsilon(1e-13));
}

TEST_CASE("a receiver's frame: right and up as someone sees who faces its lit side") {
  const dish::Receiver receiver = dish::default_receiver(2.0);
  const base::Pose pose = dish::board_pose(receiver);
  CHECK(pose.origin == Vec3{0.0, 0.0, 2.0});
  CHECK(pose.x() == Vec3{-1.0, 0.0, 0.0});
  CHECK(pose.y() == Vec3{0.0, 1.0, 0.0});
  CHECK(pose.z() == Vec3{0.0, 0.0, -1.0});
}

TEST_CASE("spots of a round fall on its own board, or else on the receiver") {
  dish::Round round;
  const dish::Receiver receiver = dish::default_receiver(2.0);
  CHECK(dish::board_pose(round, receiver).origin.z == 2.0);
  round.board = dish::Board{.centre_m = {0.0, 0.0, 1.6}, .lit_normal = {0.0, 0.0, -2.0}};
  CHECK(dish::board_pose(round, receiver).origin.z == 1.6);
  CHECK(dish::board_pose(round, receiver).z() == Vec3{0.0, 0.0, -1.0});
}
