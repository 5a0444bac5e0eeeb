// Plane polygons against closed forms and laws.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/units.h"
#include "dish/polygon.h"

namespace {

using base::Vec2;
using dish::Corners;

Corners regular(int n, double radius, const Vec2& centre = {0.0, 0.0}) {
  Corners corners;
  for (int i = 0; i < n; ++i) {
    const auto [s, c] = base::sincos_turns(static_cast<double>(i) / n);
    corners.push_back(centre + radius * Vec2{c, s});
  }
  return corners;
}

Corners reversed(Corners corners) {
  std::reverse(corners.begin(), corners.end());
  return corners;
}

const Corners k_square{{0.0, 0.0}, {2.0, 0.0}, {2.0, 2.0}, {0.0, 2.0}};

}  // namespace

TEST_CASE("areas of regular polygons: n/2 r^2 sin(2 pi / n)") {
  for (const int n : {3, 4, 5, 6, 17, 100}) {
    const double area = 0.5 * n * 1.7 * 1.7 * std::sin(2.0 * base::k_pi / n);
    CHECK(dish::signed_area(regular(n, 1.7)) == doctest::Approx(area).epsilon(1e-14));
    CHECK(dish::signed_area(reversed(regular(n, 1.7))) == doctest::Approx(-area).epsilon(1e-14));
  }
}

TEST_CASE("a polygon far from the origin keeps its area") {
  const Corners far = regular(6, 0.1, {1e4, -3e4});
  CHECK(dish::signed_area(far) == doctest::Approx(1.5 * std::sqrt(3.0) * 0.01).epsilon(1e-9));
}

TEST_CASE("fewer than three corners have no area and are not convex") {
  CHECK(dish::signed_area({}) == 0.0);
  CHECK(dish::signed_area({{1.0, 2.0}, {3.0, 4.0}}) == 0.0);
  CHECK_FALSE(dish::is_convex({{1.0, 2.0}, {3.0, 4.0}}));
}

TEST_CASE("centres of area") {
  const Vec2 triangle = dish::centroid({{0.0, 0.0}, {3.0, 0.0}, {0.0, 6.0}});
  CHECK(triangle.x == doctest::Approx(1.0));
  CHECK(triangle.y == doctest::Approx(2.0));
  const Vec2 hexagon = dish::centroid(regular(6, 2.0, {5.0, -7.0}));
  CHECK(hexagon.x == doctest::Approx(5.0));
  CHECK(hexagon.y == doctest::Approx(-7.0));
  // An L of three unit squares: (1.5 + 0.5 + 0.5) / 3 both ways.
  const Vec2 l = dish::centroid({{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}});
  CHECK(l.x == doctest::Approx(2.5 / 3.0));
  CHECK(l.y == doctest::Approx(2.5 / 3.0));
}

TEST_CASE("convex polygons are known from those that are not") {
  CHECK(dish::is_convex(k_square));
  CHECK(dish::is_convex(regular(200, 0.3)));
  CHECK_FALSE(dish::is_convex(reversed(k_square)));
  CHECK_FALSE(dish::is_convex({{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}));
  // A corner in the middle of a side, and one that repeats, do no harm.
  CHECK(dish::is_convex({{0, 0}, {1, 0}, {2, 0}, {2, 2}, {2, 2}, {0, 2}}));
  // A five-pointed star turns left at every corner, but goes around twice.
  const Corners five = regular(5, 1.0);
  CHECK_FALSE(dish::is_convex({five[0], five[2], five[4], five[1], five[3]}));
  // A bow tie crosses itself.
  CHECK_FALSE(dish::is_convex({{0, 0}, {1, 1}, {1, 0}, {0, 1}}));
}

TEST_CASE("inside, outside and on the edge") {
  CHECK(dish::contains(k_square, {1.0, 1.0}));
  CHECK(dish::contains(k_square, {2.0, 1.0}));
  CHECK(dish::contains(k_square, {0.0, 0.0}));
  CHECK_FALSE(dish::contains(k_square, {2.0001, 1.0}));
  CHECK_FALSE(dish::contains({{0, 0}, {1, 1}}, {0.5, 0.5}));
}

TEST_CASE("the hull of a grid of points is its four corners, whatever their order") {
  Corners points;
  for (int i = 0; i <= 4; ++i)
    for (int j = 0; j <= 4; ++j) points.push_back({0.5 * i, 0.5 * j});
  CHECK(dish::convex_hull(points) == k_square);
  CHECK(dish::convex_hull(reversed(points)) == k_square);
}

TEST_CASE("a hull holds every point, is convex, and is its own hull") {
  Corners points;
  for (int i = 0; i < 500; ++i) {
    const auto [s, c] = base::sincos_turns(0.381966 * i);
    const double r = std::sqrt(i / 500.0);
    points.push_back({r * c, 0.7 * r * s});
  }
  const Corners hull = dish::convex_hull(points);
  CHECK(dish::is_convex(hull));
  CHECK(dish::convex_hull(hull) == hull);
  for (const Vec2& point : points) CHECK(dish::contains(hull, point));
}

TEST_CASE("hulls without area have fewer than three corners") {
  CHECK(dish::convex_hull({}).empty());
  CHECK(dish::convex_hull({{1, 1}, {1, 1}}).size() == 1);
  CHECK(dish::convex_hull({{0, 0}, {1, 1}, {2, 2}, {3, 3}}).size() == 2);
}

TEST_CASE("how far two polygons reach into each other") {
  const auto shifted = [](double x, double y) {
    Corners corners = k_square;
    for (Vec2& corner : corners) corner += Vec2{x, y};
    return corners;
  };
  CHECK(dish::overlap_depth(k_square, shifted(1.75, 0.5)) == doctest::Approx(0.25));
  CHECK(dish::overlap_depth(shifted(1.75, 0.5), k_square) == doctest::Approx(0.25));
  CHECK(dish::overlap_depth(k_square, shifted(2.0, 0.0)) <= 1e-15);
  CHECK(dish::overlap_depth(k_square, shifted(2.5, 0.0)) < 0.0);
  // Corner to corner along a diagonal the boxes overlap, the shapes do not.
  const Corners diamond{{3.2, 1.4}, {4.2, 2.4}, {3.2, 3.4}, {2.2, 2.4}};
  CHECK(dish::overlap_depth({{0, 0}, {2.6, 0}, {0, 2.6}}, diamond) < 0.0);
}
