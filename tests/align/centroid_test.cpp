// Spots read as the middle of a whole facet's light, brought back to centre rays.
#include "align/centroid.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "align/plan.h"
#include "optics/live.h"
#include "support/figures.h"
#include "support/reference_dish.h"

namespace {

using base::Vec2;

/// Facets of 230 mm across, spheres of 4 m, at 250, 500 and 750 mm from the axis.
dish::Dish three_facets(const dish::Surface& surface) {
  dish::Dish dish = support::one_facet_dish({0.25, 0.0, 0.0625 / 8.0});
  dish.facet_types[0].outline = dish::Disc{0.23};
  dish.facet_types[0].surface = surface;
  dish.receiver.shades = false;
  for (const double r : {0.5, 0.75}) {
    dish::Facet facet = dish.facets[0];
    facet.id.text = r == 0.5 ? "A2" : "A3";
    facet.centre_m = {r, 0.0, r * r / 8.0};
    dish.facets.push_back(facet);
  }
  return dish;
}

std::vector<Vec2> offsets_of(const dish::Dish& dish) {
  const auto offsets = align::centroid_offsets(dish, align::sighting_of(dish, {}), {{0}, {1}, {2}});
  REQUIRE(offsets.ok());
  std::vector<Vec2> found;
  for (const auto& offset : offsets.value()) {
    REQUIRE(offset.has_value());
    found.push_back(*offset);
  }
  return found;
}

/// The round a person logs who reads the middle of each facet's light.
dish::Round round_of_centroids(const dish::Dish& built, const dish::Source& source) {
  dish::Round round{.source = source};
  const auto* sun = std::get_if<dish::SunSource>(&source);
  const auto light = optics::evaluate(
      built, {.tracking_error_rad = sun != nullptr ? sun->tracking_error_rad : Vec2{0.0, 0.0}});
  REQUIRE(light.ok());
  for (std::size_t i = 0; i < built.facets.size(); ++i) {
    round.spots.push_back(
        {.facet = built.facets[i].id, .seen_m = light.value().spots[i].centroid_m});
  }
  return round;
}

}  // namespace

// Source: derived by ray quadrature, spherical facet 230 mm across, f = 2 m: the centroid lies
// 0.12, 0.25, 0.38 mm toward the axis at r = 250, 500, 750; a flat facet in parallel light has
// none. Tolerance: the finite sun and the quadrature of the quick evaluation, 0.03 mm.
TEST_CASE("the middle of a facet's light is not its centre ray's spot") {
  const auto sphere = offsets_of(three_facets(dish::Spherical{4.0}));
  const double table_mm[] = {0.12, 0.25, 0.38};
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(std::abs(std::abs(sphere[i].x) * 1e3 - table_mm[i]) < 0.03);
    CHECK(std::abs(sphere[i].y) * 1e3 < 0.01);
  }
  for (const Vec2& flat : offsets_of(three_facets(dish::Flat{}))) {
    CHECK(glm::length(flat) * 1e3 < 0.03);
  }
  support::record_figure("align/centroid_offset_750_m", sphere[2].x);
}

TEST_CASE("spots read as centroids undo the displacements as well") {
  const dish::Dish nominal = three_facets(dish::Spherical{4.0});
  dish::Dish built = nominal;
  built.facets[0].displacement_m = {0.0008, -0.0005, -0.0003};
  built.facets[1].displacement_m = {-0.0002, -0.0005, 0.0007};
  built.facets[2].displacement_m = {0.0001, 0.0004, -0.0005};
  const dish::Round round = round_of_centroids(built, dish::SunSource{{0.002, -0.001}});
  align::PlanRequest request{.piston = align::Piston::keep_height, .spot_is_centroid = true};
  const auto plan = align::make_plan(nominal, round, request);
  REQUIRE(plan.ok());
  request.spot_is_centroid = false;
  const auto as_chief = align::make_plan(nominal, round, request);
  REQUIRE(as_chief.ok());
  REQUIRE(plan.value().facets.size() == 3);
  double worst = 0.0;
  double worst_as_chief = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      const double moved = built.facets[i].displacement_m[k];
      worst = std::max(worst, std::abs(plan.value().facets[i].screws[k].displacement_m + moved));
      worst_as_chief = std::max(
          worst_as_chief, std::abs(as_chief.value().facets[i].screws[k].displacement_m + moved));
    }
  }
  CHECK_MESSAGE(worst < 1e-6, "a micrometre in heights");
  CHECK_MESSAGE(worst_as_chief > 2e-6, "the offset matters");
}

TEST_CASE("a laser marks the centre ray itself") {
  const dish::Dish dish = three_facets(dish::Spherical{4.0});
  const auto offsets = align::centroid_offsets(
      dish, align::sighting_of(dish, {.source = dish::LaserSource{}}), {{0}, {2}});
  REQUIRE(offsets.ok());
  for (const auto& offset : offsets.value()) CHECK(glm::length(*offset) == 0.0);
}
