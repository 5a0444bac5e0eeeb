// Lattices and their colourings, and the chance that neighbours swap.
#include "align/covers.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "align/schemes.h"
#include "random_scene.h"
#include "reference_dish.h"

namespace {

using align::Cover;
using align::Lattice;
using base::Vec2;

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
  // Source: sublattices of index N of the hexagonal lattice have least distance sqrt N for N = 3,
  // 4, 7 (Loeschian numbers q^2 + qr + r^2: Conway & Sloane, Sphere Packings, Lattices and Groups,
  // ch. 4); of the square lattice sqrt N for N = 2, 4, 5, 9 (sums of two squares). Raw numbers:
  // 1.7320508, 2, 2.6457513; 1.4142136, 2, 2.2360680, 3. Tolerance: rounding. Difference today:
  // below 1e-12.
  for (const double turned : {0.0, 0.4, 2.0}) {
    const auto hexagonal = lattice_places(Lattice::hexagonal, 4, turned);
    for (const std::size_t groups : {3, 4, 7}) {
      const Cover cover = align::cover_in(hexagonal, groups);
      CHECK(cover.is_lattice);
      CHECK(cover.pitch_gain ==
            doctest::Approx(std::sqrt(static_cast<double>(groups))).epsilon(1e-12));
    }
    const auto square = lattice_places(Lattice::square, 4, turned);
    for (const std::size_t groups : {2, 4, 5, 9}) {
      const Cover cover = align::cover_in(square, groups);
      CHECK(cover.is_lattice);
      CHECK(cover.pitch_gain ==
            doctest::Approx(std::sqrt(static_cast<double>(groups))).epsilon(1e-12));
    }
  }
}

TEST_CASE("covers: layouts that are no lattice still come apart") {
  align_test::Random random(3);
  std::vector<Vec2> places;
  for (int i = 0; i < 60; ++i) places.emplace_back(random(-1.0, 1.0), random(-1.0, 1.0));
  CHECK(align::lattice_of(places).lattice == Lattice::none);
  double before = 0.0;
  for (const std::size_t groups : {2, 4, 8, 16}) {
    const Cover cover = align::cover_in(places, groups);
    CHECK_FALSE(cover.is_lattice);
    CHECK(*std::max_element(cover.group_of.begin(), cover.group_of.end()) < groups);
    CHECK(cover.pitch_gain > before);
    before = cover.pitch_gain;
  }
  CHECK(align::cover_in({{0.0, 0.0}}, 3).groups == 3);
  CHECK(align::cover_in({}, 1).group_of.empty());
}

TEST_CASE("covers: the normal tail") {
  // Source: Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 26.1, Q(x) =
  // 1 - P(x). Raw numbers: Q(0) 0.5, Q(1) 0.158655253931457, Q(2) 0.022750131948179,
  // Q(3) 0.001349898031630. Tolerance 1e-12: Simpson's rule. Difference today: below 1e-13.
  CHECK(align::normal_tail(0.0) == doctest::Approx(0.5).epsilon(1e-12));
  CHECK(std::abs(align::normal_tail(1.0) - 0.158655253931457) < 1e-12);
  CHECK(std::abs(align::normal_tail(2.0) - 0.022750131948179) < 1e-12);
  CHECK(std::abs(align::normal_tail(3.0) - 0.001349898031630) < 1e-12);
  CHECK(std::abs(align::normal_tail(-1.0) - 0.841344746068543) < 1e-12);
}

TEST_CASE("covers: the chance of no swap, in closed form") {
  // Source: exp(-n Q(P / (sqrt2 s))) with n = 84 neighbouring pairs of the reference dish; the
  // design page gives P/s >= 5.2 for 99 %, 4.6 for 95 %, 4.3 for 90 %. Tolerance: its two digits,
  // 0.05 in P/s, which is 0.006 in the chance. Differences today: 0.0002, 0.002, 0.003.
  const auto places = places_of(align_test::reference_dish());
  const std::vector<std::size_t> one_group(places.size(), 0);
  const align::Neighbours all = align::neighbours_of(places, one_group, 1);
  CHECK(all.pairs == 84);
  CHECK(all.pitch_m == doctest::Approx(0.25).epsilon(1e-12));
  CHECK(align::chance_of_no_swap(all, all.pitch_m / 5.2) == doctest::Approx(0.99).epsilon(0.006));
  CHECK(align::chance_of_no_swap(all, all.pitch_m / 4.6) == doctest::Approx(0.95).epsilon(0.006));
  CHECK(align::chance_of_no_swap(all, all.pitch_m / 4.3) == doctest::Approx(0.90).epsilon(0.01));
  CHECK(align::chance_of_no_swap(all, 0.0) == 1.0);
}

TEST_CASE("schemes: the board that just fits the reference dish") {
  // Source: the design page's hand calculation for Delta = 0.2 f, hole 40 mm: the board may reach
  // 222 mm before it shades the inner ring and needs 155 + 68 = 223 mm for tilts of 20 mrad. Raw
  // numbers: 250 - 20 - 0.00465 * 1600 = 222.56; 750 * 400 / (2000 - 70.3) = 155.5. Tolerance:
  // 1 mm for the first two (whole millimetres), 3 mm for the capture (a mean of the rim's radial
  // and tangential sensitivity there, the greater one here). Difference today: 0.6, 0.5, 2 mm.
  const dish::Dish dish = align_test::reference_dish();
  const auto board = align::defocus_board(dish, 0.4, {});
  REQUIRE(board.ok());
  CHECK(board.value().shadow_limit_m == doctest::Approx(0.22256).epsilon(1e-6));
  CHECK(std::abs(board.value().array_radius_m - 0.155) < 1e-3);
  CHECK(std::abs(board.value().capture_m - 0.068) < 3e-3);
  const auto largest = align::largest_defocus(dish, {});
  REQUIRE(largest.ok());
  CHECK(largest.value().before_focus_m >= 0.36);
  CHECK(largest.value().before_focus_m <= 0.42);
  CHECK(largest.value().shaded == 0);
  CHECK(largest.value().half_width_m <= largest.value().shadow_limit_m);
  const auto wider = align::defocus_board(dish, largest.value().before_focus_m + 0.04, {});
  REQUIRE(wider.ok());
  CHECK(wider.value().half_width_m > wider.value().shadow_limit_m);
}

TEST_CASE("schemes: more photographs the less is known") {
  const dish::Dish dish = align_test::reference_dish();
  std::size_t before = 0;
  for (const double prior : {0.002, 0.003, 0.005, 0.010}) {
    const auto advice = align::advise(dish, prior, {});
    REQUIRE(advice.ok());
    CHECK(advice.value().scheme == align::Scheme::defocus);
    CHECK(advice.value().groups >= before);
    CHECK(advice.value().reason.size() > 40);
    before = advice.value().groups;
  }
  CHECK(align::advise(dish, 0.003, {}).value().groups == 1);
  CHECK(align::advise(dish, 0.005, {}).value().groups == 3);
  CHECK(align::advise(dish, 0.010, {}).value().groups == 7);
  const auto single = align::advise(align_test::one_facet_dish({0.5, 0.0, 0.03125}), 0.01, {});
  REQUIRE(single.ok());
  CHECK(single.value().scheme == align::Scheme::one_by_one);
  CHECK_FALSE(align::advise(dish::Dish{}, 0.003, {}).ok());
}
