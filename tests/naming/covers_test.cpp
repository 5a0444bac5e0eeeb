// Lattices and their colourings, and the chance that neighbours swap.
#include "naming/covers.h"

#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "naming/schemes.h"
#include "support/outside.h"
#include "support/reference_dish.h"
#include "support/seeded.h"

namespace {

using base::Vec2;
using naming::Cover;
using naming::Lattice;

std::vector<Vec2> lattice_places(Lattice lattice, int half, double turn_rad) {
  std::vector<Vec2> places;
  for (int q = -half; q <= half; ++q) {
    for (int r = -half; r <= half; ++r) {
      const double x = lattice == Lattice::hexagonal ? 0.3 * (q + 0.5 * r) : 0.3 * q;
      const double y = lattice == Lattice::hexagonal ? 0.3 * std::sqrt(0.75) * r : 0.3 * r;
      places.emplace_back(std::cos(turn_rad) * x - std::sin(turn_rad) * y + 0.11,
                          std::sin(turn_rad) * x + std::cos(turn_rad) * y - 0.07);
    }
  }
  return places;
}

std::vector<Vec2> places_of(const dish::Dish& dish) {
  std::vector<Vec2> places;
  for (const dish::Facet& facet : dish.facets) {
    places.emplace_back(facet.centre_m.x, facet.centre_m.y);
  }
  return places;
}

}  // namespace

TEST_CASE("covers: pitch gains of the lattices' colourings") {
  struct Row {
    Lattice lattice;
    std::size_t groups;
    double gain;
  };
  const Row rows[] = {{Lattice::hexagonal, 3, 1.7320508}, {Lattice::hexagonal, 4, 2.0},
                      {Lattice::hexagonal, 7, 2.6457513}, {Lattice::square, 2, 1.4142136},
                      {Lattice::square, 4, 2.0},          {Lattice::square, 5, 2.2360680},
                      {Lattice::square, 9, 3.0}};
  constexpr double pins[7] = {1.73205080757, 2, 2.64575131107, 1.41421356237, 2, 2.2360679775, 3};
  for (std::size_t k = 0; k < std::size(rows); ++k) {
    const Row& row = rows[k];
    for (const double turned : {0.4, 2.0}) {
      const Cover cover = naming::cover_in(lattice_places(row.lattice, 4, turned), row.groups);
      CHECK(cover.is_lattice);
      CHECK(cover.pitch_gain ==
            doctest::Approx(std::sqrt(static_cast<double>(row.groups))).epsilon(1e-12));
    }
    const Cover cover = naming::cover_in(lattice_places(row.lattice, 4, 0.0), row.groups);
    CHECK(cover.is_lattice);
    support::check_outside(
        {.what = fmt::format("pitch gain of {} groups on a {} lattice", row.groups,
                             row.lattice == Lattice::hexagonal ? "hexagonal" : "square"),
         .source = "Conway & Sloane, Sphere Packings, Lattices and Groups, ch. 4: sublattices",
         .outside = row.gain,
         .ours = cover.pitch_gain,
         .tolerance = 5e-8,
         .why = support::k_half_digit,
         .pin = pins[k]});
  }
}

TEST_CASE("covers: layouts that are no lattice still come apart") {
  support::Seeded random(3);
  std::vector<Vec2> places;
  for (int i = 0; i < 60; ++i) places.emplace_back(random(-1.0, 1.0), random(-1.0, 1.0));
  CHECK(naming::lattice_of(places).lattice == Lattice::none);
  double before = 0.0;
  for (const std::size_t groups : {2, 4, 8, 16}) {
    const Cover cover = naming::cover_in(places, groups);
    CHECK_FALSE(cover.is_lattice);
    CHECK(*std::max_element(cover.group_of.begin(), cover.group_of.end()) < groups);
    CHECK(cover.pitch_gain > before);
    before = cover.pitch_gain;
  }
  CHECK(naming::cover_in({{0.0, 0.0}}, 3).groups == 3);
  CHECK(naming::cover_in({}, 1).group_of.empty());
}

TEST_CASE("covers: the normal tail") {
  constexpr double outside[] = {0.158655253931457, 0.022750131948179, 0.001349898031630};
  constexpr double pins[3] = {0.158655253931, 0.0227501319483, 0.0013498980317};
  for (std::size_t k = 0; k < 3; ++k) {
    support::check_outside(
        {.what = "normal tail beyond " + std::to_string(k + 1) + " sigma",
         .source = "Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 26.1",
         .outside = outside[k],
         .ours = naming::normal_tail(static_cast<double>(k + 1)),
         .tolerance = 1e-12,
         .why = "Simpson's rule",
         .pin = pins[k]});
  }
  CHECK(naming::normal_tail(0.0) == doctest::Approx(0.5).epsilon(1e-12));
  CHECK(std::abs(naming::normal_tail(-1.0) - 0.841344746068543) < 1e-12);
}

TEST_CASE("covers: the chance of no swap, in closed form") {
  // exp(-n Q(P / (sqrt2 s))) with n = 84 neighbouring pairs of the reference dish.
  const auto places = places_of(support::reference_dish());
  const std::vector<std::size_t> one_group(places.size(), 0);
  const naming::Neighbours all = naming::neighbours_of(places, one_group, 1);
  CHECK(all.pairs == 84);
  CHECK(all.pitch_m == doctest::Approx(0.25).epsilon(1e-12));
  constexpr double pitch_over_scatter[] = {5.2, 4.6, 4.3};
  constexpr double chances[] = {0.99, 0.95, 0.90};
  constexpr double pins[3] = {0.990135530731, 0.953120998879, 0.90558104336};
  for (std::size_t k = 0; k < 3; ++k) {
    const double ratio = pitch_over_scatter[k];
    support::check_outside({.what = fmt::format("chance of no swap at {} sigma of pitch", ratio),
                            .source = "order of 84 normal pairs, by hand: exp(-84 Q(P / sqrt2 s))",
                            .outside = chances[k],
                            .ours = naming::chance_of_no_swap(all, all.pitch_m / ratio),
                            .tolerance = 0.009,
                            .why = "half a last digit of the ratio",
                            .pin = pins[k]});
  }
  CHECK(naming::chance_of_no_swap(all, 0.0) == 1.0);
}

TEST_CASE("schemes: the board that just fits the reference dish") {
  // Source: the design page's hand calculation for Delta = 0.2 f, hole 40 mm: the board may reach
  // 222 mm before it shades the inner ring and needs 155 + 68 = 223 mm for tilts of 20 mrad. Raw
  // numbers: 250 - 20 - 0.00465 * 1600 = 222.56; 750 * 400 / (2000 - 70.3) = 155.5. Tolerance:
  // 1 mm for the first two (whole millimetres), 3 mm for the capture (a mean of the rim's radial
  // and tangential sensitivity there, the greater one here). Difference today: 0.6, 0.5, 2 mm.
  const dish::Dish dish = support::reference_dish();
  const auto board = naming::defocus_board(dish, 0.4, {});
  REQUIRE(board.ok());
  CHECK(board.value().shadow_limit_m == doctest::Approx(0.22256).epsilon(1e-6));
  CHECK(std::abs(board.value().array_radius_m - 0.155) < 1e-3);
  CHECK(std::abs(board.value().capture_m - 0.068) < 3e-3);
  const auto largest = naming::largest_defocus(dish, {});
  REQUIRE(largest.ok());
  CHECK(largest.value().before_focus_m >= 0.36);
  CHECK(largest.value().before_focus_m <= 0.42);
  CHECK(largest.value().shaded == 0);
  CHECK(largest.value().half_width_m <= largest.value().shadow_limit_m);
  const auto wider = naming::defocus_board(dish, largest.value().before_focus_m + 0.04, {});
  REQUIRE(wider.ok());
  CHECK(wider.value().half_width_m > wider.value().shadow_limit_m);
}

TEST_CASE("schemes: more photographs the less is known") {
  const dish::Dish dish = support::reference_dish();
  std::size_t before = 0;
  for (const double prior : {0.002, 0.003, 0.005, 0.010}) {
    const auto advice = naming::advise(dish, prior, {});
    REQUIRE(advice.ok());
    CHECK(advice.value().scheme == naming::Scheme::defocus);
    CHECK(advice.value().groups >= before);
    CHECK(advice.value().reason.size() > 40);
    before = advice.value().groups;
  }
  CHECK(naming::advise(dish, 0.003, {}).value().groups == 1);
  CHECK(naming::advise(dish, 0.005, {}).value().groups == 3);
  CHECK(naming::advise(dish, 0.010, {}).value().groups == 7);
  const auto single = naming::advise(support::one_facet_dish({0.5, 0.0, 0.03125}), 0.01, {});
  REQUIRE(single.ok());
  CHECK(single.value().scheme == naming::Scheme::one_by_one);
  CHECK_FALSE(naming::advise(dish::Dish{}, 0.003, {}).ok());
}
