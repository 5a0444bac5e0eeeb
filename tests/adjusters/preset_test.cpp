// Caliper settings: nominal heights of every screw.
#include "adjusters/preset.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

namespace {

using adjusters::FacePose;

dish::Dish dish_with(const dish::Mount& mount) {
  dish::Dish dish;
  dish.mounts.push_back(mount);
  dish.facets.push_back({.id = {"A1"},
                         .mount = mount.name,
                         .centre_m = {0.6, 0.45, 0.0703125},
                         .displacement_m = {0.001, 0.0, -0.002}});
  return dish;
}

dish::Mount plate() {
  const double s = std::sqrt(3.0) / 2.0;
  return {.name = {"plate"},
          .standoff_m = 0.03,
          .caliper_offset_m = 0.0042,
          .adjusters = {{.label = "top", .y_m = 0.08},
                        {.label = "left", .x_m = -0.08 * s, .y_m = -0.04},
                        {.label = "right", .x_m = 0.08 * s, .y_m = -0.04}}};
}

const FacePose k_nominal{{0.6, 0.45, 0.0703125}, base::unit({-0.15, -0.1125, 1.0})};

}  // namespace

TEST_CASE("on a bracket parallel to the facet every height is the standoff") {
  const dish::Dish dish = dish_with(plate());
  const auto preset = adjusters::preset_of(dish, dish.facets[0], k_nominal);
  REQUIRE(preset.ok());
  for (const auto& screw : preset.value().screws) {
    CHECK(screw.height_m == doctest::Approx(0.03));
    CHECK(screw.caliper_m == doctest::Approx(0.0342));
  }
  CHECK(preset.value().screws[0].label == "top");
  CHECK(preset.value().screws[2].displacement_m == -0.002);
}

TEST_CASE("on a flat bracket heights follow the facet's slope") {
  dish::Mount mount = plate();
  mount.lie = dish::BracketLie::aperture;
  const dish::Dish dish = dish_with(mount);
  const auto preset = adjusters::preset_of(dish, dish.facets[0], k_nominal);
  REQUIRE(preset.ok());
  const auto& screws = preset.value().screws;
  // Slopes of the facet are 0.15 and 0.1125; between two screws the height changes by just that.
  CHECK(screws[2].height_m - screws[1].height_m ==
        doctest::Approx(0.15 * 0.16 * std::sqrt(3.0) / 2.0));
  CHECK(screws[0].height_m - 0.5 * (screws[1].height_m + screws[2].height_m) ==
        doctest::Approx(0.1125 * 0.12));
}

// Source: derived, sd of slope = s sqrt(2/3) / rho; s = 0.05 mm on 80 mm: 0.51 mrad per axis.
// Tolerance: 3 % of a seeded sample of 4000 (standard error 1.1 %), and half a digit of 0.51.
TEST_CASE("a caliper's error becomes a slope error") {
  const dish::Dish dish = dish_with(plate());
  const auto bracket = adjusters::bracket_of(dish.facets[0], &dish.mounts[0], k_nominal);
  REQUIRE(bracket.ok());
  std::mt19937 engine(11);
  const auto gauss = [&] {  // sum of twelve even numbers: unit variance
    double sum = -6.0;
    for (int i = 0; i < 12; ++i) sum += static_cast<double>(engine()) / 4294967296.0;
    return sum;
  };
  double squares = 0.0;
  const int count = 4000;
  for (int i = 0; i < count; ++i) {
    const auto plane =
        adjusters::plane_through(bracket.value(), {5e-5 * gauss(), 5e-5 * gauss(), 5e-5 * gauss()});
    squares += 0.5 * (plane.alpha * plane.alpha + plane.beta * plane.beta);
  }
  const double sd_mrad = std::sqrt(squares / count) * 1e3;
  const double closed = 0.05 * std::sqrt(2.0 / 3.0) / 80.0 * 1e3;
  CHECK(std::abs(closed - 0.51) < 0.005);
  CHECK(std::abs(sd_mrad / closed - 1.0) < 0.03);
}

TEST_CASE("presets of a whole dish name every facet that has none") {
  dish::Dish dish = dish_with(plate());
  dish.facets.push_back({.id = {"A2"}, .mount = {"gone"}});
  dish.facets.push_back({.id = {"A3"}});
  const auto presets = adjusters::presets_of(dish, {k_nominal, k_nominal, k_nominal});
  REQUIRE(!presets.ok());
  REQUIRE(presets.problems().size() == 2);
  CHECK(presets.problems()[0].place.find("A2") != std::string::npos);
  CHECK(presets.problems()[1].place.find("A3") != std::string::npos);
}
