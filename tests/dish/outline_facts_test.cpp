// Outlines: closed forms, and laws that hold between area, corners, centre and inside.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "base/units.h"
#include "dish/outline_facts.h"

namespace {

using base::Vec2;
using dish::Outline;

const dish::AnnularSector k_petal{0.3, 0.6, 0.5};

std::vector<Outline> many_outlines() {
  return {dish::Hexagon{0.23},
          dish::Rectangle{0.2, 0.35},
          dish::Disc{0.27},
          k_petal,
          dish::AnnularSector{0.0, 0.4, 1.2},
          dish::AnnularSector{0.9, 1.0, base::k_pi},
          dish::Polygon{{{-0.1, -0.1}, {0.2, -0.05}, {0.15, 0.2}, {-0.12, 0.11}}}};
}

/// Share of a fine grid of cell centres over the outline's bounding square that lies inside.
struct Counted {
  double area = 0.0;
  Vec2 centre{0.0, 0.0};
};
Counted count(const Outline& outline) {
  constexpr int n = 1200;
  const double reach = dish::bounding_radius(outline);
  const double cell = 2.0 * reach / n;
  Counted counted;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const Vec2 at{-reach + (i + 0.5) * cell, -reach + (j + 0.5) * cell};
      if (!dish::contains(outline, at)) continue;
      counted.area += cell * cell;
      counted.centre += cell * cell * at;
    }
  }
  counted.centre /= counted.area;
  return counted;
}

}  // namespace

TEST_CASE("areas in closed form") {
  CHECK(dish::outline_area(dish::Hexagon{0.23}) ==
        doctest::Approx(std::sqrt(3.0) / 2.0 * 0.23 * 0.23).epsilon(1e-15));
  CHECK(dish::outline_area(dish::Rectangle{0.2, 0.35}) == doctest::Approx(0.07).epsilon(1e-15));
  CHECK(dish::outline_area(dish::Disc{0.2}) == doctest::Approx(base::k_pi * 0.01).epsilon(1e-15));
  CHECK(dish::outline_area(k_petal) == doctest::Approx(0.5 * 0.5 * 0.27).epsilon(1e-15));
  // A half disc.
  CHECK(dish::outline_area(dish::AnnularSector{0.0, 1.0, base::k_pi}) ==
        doctest::Approx(base::k_pi / 2.0).epsilon(1e-15));
}

TEST_CASE("how far outlines reach from their centre") {
  CHECK(dish::bounding_radius(dish::Hexagon{0.3}) == doctest::Approx(0.3 / std::sqrt(3.0)));
  CHECK(dish::bounding_radius(dish::Rectangle{0.3, 0.4}) == doctest::Approx(0.25));
  CHECK(dish::bounding_radius(dish::Disc{0.3}) == 0.15);
  CHECK(dish::bounding_radius(dish::Polygon{{{-0.1, 0.0}, {0.3, -0.4}, {0.2, 0.2}}}) ==
        doctest::Approx(0.5));
}

TEST_CASE("corners lie at the outline's reach or nearer, and one of them at it") {
  for (const Outline& outline : many_outlines()) {
    const double reach = dish::bounding_radius(outline);
    double furthest = 0.0;
    for (const Vec2& corner : dish::outline_corners(outline))
      furthest = std::max(furthest, glm::length(corner));
    CHECK(furthest == doctest::Approx(reach).epsilon(1e-14));
  }
}

TEST_CASE("corners go anticlockwise and hold the area but for the arcs' chords") {
  for (const Outline& outline : many_outlines()) {
    const double polygon = dish::signed_area(dish::outline_corners(outline, 400));
    CHECK(polygon > 0.0);
    CHECK(polygon == doctest::Approx(dish::outline_area(outline)).epsilon(3e-4));
  }
}

TEST_CASE("more points on the arcs come nearer to the true area, by the square of their number") {
  const double exact = dish::outline_area(dish::Disc{0.2});
  const auto lost = [&](int points) {
    return exact - dish::signed_area(dish::outline_corners(dish::Disc{0.2}, points));
  };
  CHECK(lost(48) > 0.0);
  CHECK(lost(48) / lost(96) == doctest::Approx(4.0).epsilon(0.01));
}

TEST_CASE("a hexagon's flats cross the u axis") {
  const dish::Hexagon hexagon{0.2};
  CHECK(dish::contains(hexagon, {0.0999, 0.0}));
  CHECK_FALSE(dish::contains(hexagon, {0.1001, 0.0}));
  // Its corners are on the v axis, further out.
  CHECK(dish::contains(hexagon, {0.0, 0.115}));
  CHECK_FALSE(dish::contains(hexagon, {0.0, 0.116}));
}

TEST_CASE("a petal's centre lies half way between its radii, and u points outward") {
  CHECK(dish::contains(k_petal, {0.0, 0.0}));
  CHECK(dish::contains(k_petal, {0.1499, 0.0}));
  CHECK_FALSE(dish::contains(k_petal, {0.1501, 0.0}));
  CHECK(dish::contains(k_petal, {-0.1499, 0.0}));
  CHECK_FALSE(dish::contains(k_petal, {-0.1501, 0.0}));
  // It is wider outside than inside.
  CHECK(dish::contains(k_petal, {0.1, 0.13}));
  CHECK_FALSE(dish::contains(k_petal, {-0.1, 0.13}));
}

TEST_CASE("area and centre of area agree with counting cells") {
  for (const Outline& outline : many_outlines()) {
    const Counted counted = count(outline);
    const double reach = dish::bounding_radius(outline);
    CHECK(counted.area == doctest::Approx(dish::outline_area(outline)).epsilon(2e-3));
    CHECK(glm::distance(counted.centre, dish::outline_centroid(outline)) < 1e-3 * reach);
  }
}

TEST_CASE("centre of area of a half disc: 4 r / (3 pi) from its diameter") {
  const Vec2 centre = dish::outline_centroid(dish::AnnularSector{0.0, 1.0, base::k_pi});
  // The facet's centre is half way out, at 0.5 from the apex.
  CHECK(centre.x + 0.5 == doctest::Approx(4.0 / (3.0 * base::k_pi)).epsilon(1e-14));
  CHECK(centre.y == 0.0);
}

TEST_CASE("only petals with an inner radius and bent polygons are not convex") {
  CHECK(dish::is_convex(Outline(dish::Hexagon{})));
  CHECK(dish::is_convex(Outline(dish::Disc{})));
  CHECK(dish::is_convex(Outline(dish::AnnularSector{0.0, 0.4, 1.2})));
  CHECK_FALSE(dish::is_convex(Outline(k_petal)));
  CHECK_FALSE(
      dish::is_convex(Outline(dish::Polygon{{{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}})));
}

TEST_CASE("convex pieces are convex and cover the outline without counting anything twice") {
  for (const Outline& outline : many_outlines()) {
    double area = 0.0;
    for (const dish::Corners& piece : dish::convex_pieces(outline, 400)) {
      CHECK(dish::is_convex(piece));
      area += dish::signed_area(piece);
    }
    CHECK(area == doctest::Approx(dish::outline_area(outline)).epsilon(3e-4));
  }
}
