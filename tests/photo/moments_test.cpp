// Second moments as ISO 11146-1 defines them, on light whose widths are known in closed form.
#include "photo/moments.h"

#include <doctest/doctest.h>

#include <fmt/format.h>

#include <cmath>
#include <functional>

#include "base/units.h"
#include "support/outside.h"
#include "support/photo_scene.h"

namespace {

using base::Vec2;
using photo::Moments;
using photo::Widths;

constexpr const char* k_widths_source =
    "ISO 11146-1:2005, definition of beam widths: 4 sigma of a Gaussian";
/// Light is kept in single precision: a last digit of a library's exponential shows at 1e-8.
constexpr double k_single = 1e-6;

/// A grid filled by a function of the place, each cell the mean of 5 x 5 places.
photo::BoardView filled(int columns, int rows, const std::function<double(const Vec2&)>& light) {
  photo::BoardView view{.columns = columns, .rows = rows, .pitch_m = 0.001};
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      double sum = 0.0;
      for (int k = 0; k < 25; ++k) {
        sum += light({column + (k % 5 + 0.5) / 5.0, row + (k / 5 + 0.5) / 5.0});
      }
      view.light.push_back(static_cast<float>(sum / 25.0));
    }
  }
  view.state.assign(view.light.size(), 0);
  return view;
}

/// Offset from a middle, in a frame turned by an angle.
Vec2 turned(const Vec2& place, const Vec2& middle, double angle) {
  const Vec2 off = place - middle;
  return {std::cos(angle) * off.x + std::sin(angle) * off.y,
          std::cos(angle) * off.y - std::sin(angle) * off.x};
}

Widths widths_of(const Moments& moments) {
  return photo::widths_of(moments.xx, moments.yy, moments.xy);
}

}  // namespace

TEST_CASE("D4sigma of an elliptical Gaussian is four sigma along its axes, at any angle") {
  // Cells widen it by 1/12 of a cell squared, taken off here. The window ends at 6 sigma, and the
  // level beyond 4.5 sigma is taken off.
  constexpr double angles[] = {0.0, 0.4, 1.2, -0.7};
  constexpr double pins[4][2] = {{35.9850470148, 23.9894166981},
                                 {35.9847650093, 23.989212694},
                                 {35.9849738283, 23.9893457764},
                                 {35.9849797619, 23.9893540481}};
  for (std::size_t k = 0; k < 4; ++k) {
    const double angle = angles[k];
    CAPTURE(angle);
    const Vec2 middle{80.3, 71.9};
    const auto view = filled(160, 150, [&](const Vec2& place) {
      const Vec2 p = turned(place, middle, angle);
      return 0.3 * std::exp(-0.5 * (base::square(p.x / 9.0) + base::square(p.y / 6.0)));
    });
    const Moments moments = photo::moments_around(view, {83.0, 70.0}, 20.0, {}, 0.0);
    CHECK(moments.settled);
    CHECK(glm::distance(moments.middle, middle) < 1e-3);
    const Widths widths =
        photo::widths_of(moments.xx - 1.0 / 12.0, moments.yy - 1.0 / 12.0, moments.xy);
    support::OutsideCheck check{.source = k_widths_source, .why = "1e-3, the window's end"};
    check.what = fmt::format("longer width of a Gaussian at {} rad", angle);
    check.outside = 36.0;
    check.ours = widths.longer;
    check.tolerance = 0.036;
    check.pin = pins[k][0];
    check.tightness = k_single;
    support::check_outside(check);
    check.what = fmt::format("shorter width of a Gaussian at {} rad", angle);
    check.outside = 24.0;
    check.ours = widths.shorter;
    check.tolerance = 0.024;
    check.pin = pins[k][1];
    support::check_outside(check);
    const double across = base::cross(widths.longer_axis, {std::cos(angle), std::sin(angle)});
    CHECK(std::abs(across) < 2e-3);
    CHECK(!widths.is_round());
    CHECK(moments.sum == doctest::Approx(0.3 * 2.0 * base::k_pi * 54.0).epsilon(1e-3));
  }
}

TEST_CASE("D4sigma of a uniform disc is its diameter, of a uniform ellipse its axes") {
  const auto disc = filled(160, 160, [](const Vec2& place) {
    return glm::distance(place, Vec2{77.2, 81.6}) < 20.0 ? 0.3 : 0.0;
  });
  const Moments moments = photo::moments_around(disc, {75.0, 80.0}, 35.0, {}, 0.0);
  CHECK(moments.settled);
  CHECK(glm::distance(moments.middle, {77.2, 81.6}) < 0.01);
  CHECK(widths_of(moments).shorter == doctest::Approx(40.0).epsilon(2e-3));
  CHECK(widths_of(moments).is_round());

  const double angle = 0.9;
  const auto ellipse = filled(160, 160, [&](const Vec2& place) {
    const Vec2 p = turned(place, {80.0, 80.0}, angle);
    return base::square(p.x / 20.0) + base::square(p.y / 12.0) < 1.0 ? 0.3 : 0.0;
  });
  const Widths widths = widths_of(photo::moments_around(ellipse, {80.0, 80.0}, 30.0, {}, 0.0));
  CHECK(std::abs(base::cross(widths.longer_axis, {std::cos(angle), std::sin(angle)})) < 2e-3);
  struct Row {
    const char* what;
    double outside, ours;
  };
  const Row rows[] = {{"width of a uniform disc", 40.0, widths_of(moments).longer},
                      {"longer axis of a uniform ellipse", 40.0, widths.longer},
                      {"shorter axis of a uniform ellipse", 24.0, widths.shorter}};
  constexpr double pins[3] = {40.0250340111, 40.0218170651, 24.0288559389};
  for (std::size_t k = 0; k < 3; ++k) {
    support::check_outside({.what = rows[k].what,
                            .source = "second moment of an ellipse, a^2 / 4 (any table)",
                            .outside = rows[k].outside,
                            .ours = rows[k].ours,
                            .tolerance = 2e-3 * rows[k].outside,
                            .why = "cells at its rim",
                            .pin = pins[k],
                            .tightness = k_single});
  }
}

TEST_CASE("principal widths from moments: the formula by hand") {
  // Axes at 45 degrees with variances 8 and 2; and a Gaussian of 8 by 3 turned by 25 degrees.
  const Widths up = photo::widths_of(5.0, 5.0, 3.0);
  const Widths turned_gaussian = photo::widths_of(54.176659, 18.823341, 21.066222);
  const Vec2& axis = turned_gaussian.longer_axis;
  struct Row {
    const char* what;
    double outside, ours, tolerance;
  };
  const Row rows[] = {
      {"longer width of 5, 5, 3", 11.3137085, up.longer, 5e-8},
      {"shorter width of 5, 5, 3", 5.6568542, up.shorter, 6e-8},
      {"longer width of 8 by 3 at 25 deg", 32.0, turned_gaussian.longer, 1e-6},
      {"shorter width of 8 by 3 at 25 deg", 12.0, turned_gaussian.shorter, 1e-6},
      {"angle of 8 by 3, deg", 25.0, base::deg_from_rad(std::atan2(axis.y, axis.x)), 1e-6}};
  constexpr double pins[5] = {11.313708499, 5.65685424949, 31.9999999216, 12.000000209,
                              25.0000000882};
  for (std::size_t k = 0; k < 5; ++k) {
    support::check_outside({.what = rows[k].what,
                            .source = "ISO 11146-1:2005, widths and azimuth from moments, by hand",
                            .outside = rows[k].outside,
                            .ours = rows[k].ours,
                            .tolerance = rows[k].tolerance,
                            .why = support::k_half_digit,
                            .pin = pins[k]});
  }
  CHECK(up.longer_axis.y == doctest::Approx(std::sqrt(0.5)).epsilon(1e-14));
  CHECK(photo::widths_of(5.0, 5.0, -3.0).longer_axis.y == doctest::Approx(-std::sqrt(0.5)));
  CHECK(photo::widths_of(1.0, 4.0, 0.0).longer_axis.y == 1.0);
  CHECK(photo::widths_of(4.0, 4.0, 0.0).longer == 8.0);
  // Round from a ratio of 0.87 on (ISO 11146-1).
  CHECK(photo::widths_of(1.0, 0.8 * 0.8, 0.0).is_round() == false);
  CHECK(photo::widths_of(1.0, 0.9 * 0.9, 0.0).is_round() == true);
}

TEST_CASE("a hot pixel outside the window moves nothing; over the whole frame it would") {
  const Vec2 middle{60.0, 60.0};
  auto view = filled(200, 200, [&](const Vec2& place) {
    return 0.3 * std::exp(-0.5 * base::square(glm::distance(place, middle) / 6.0));
  });
  const Moments clean = photo::moments_around(view, middle, 24.0, {}, 0.001);
  view.light[view.index(180, 170)] = 1.0f;
  const Moments hot = photo::moments_around(view, middle, 24.0, {}, 0.001);
  CHECK(hot.middle == clean.middle);
  CHECK(hot.xx == clean.xx);
  // Its share of all light times its distance: 1 / 67.9 of 120.5 cells.
  double sum = 0.0;
  double first = 0.0;
  for (std::size_t k = 0; k < view.cells(); ++k) {
    sum += view.light[k];
    first += view.light[k] * (static_cast<double>(k % 200) + 0.5);
  }
  CHECK(first / sum - middle.x > 1.7);
}

TEST_CASE("a level of light around a spot is taken off") {
  // Without, 1 % of the peak would widen a disc by half: 137 times that share of the variance.
  const auto view = filled(160, 160, [](const Vec2& place) {
    return (glm::distance(place, Vec2{80.0, 80.0}) < 15.0 ? 0.3 : 0.0) + 0.003;
  });
  const Moments moments = photo::moments_around(view, {80.0, 80.0}, 30.0, {}, 0.0);
  CHECK(widths_of(moments).longer == doctest::Approx(30.0).epsilon(3e-3));
}

TEST_CASE("a neighbour's light stays its own") {
  const Vec2 middle{60.0, 80.0};
  const Vec2 other{84.0, 80.0};
  const auto view = filled(160, 160, [&](const Vec2& place) {
    return (glm::distance(place, middle) < 10.0 ? 0.3 : 0.0) +
           (glm::distance(place, other) < 10.0 ? 0.3 : 0.0);
  });
  const Moments moments = photo::moments_around(view, {61.0, 80.0}, 20.0, {other}, 0.0);
  CHECK(moments.settled);
  CHECK(glm::distance(moments.middle, middle) < 0.01);
  CHECK(widths_of(moments).longer == doctest::Approx(20.0).epsilon(5e-3));
}

TEST_CASE("noise moves the middle as the formula says") {
  // Closed form: a disc of diameter d and height A in a window of half width w, noise sigma per
  // cell: sd = (2 / sqrt pi) (sigma / A) (w / d)^2 for a round window of radius w; for our square
  // one of half side 1.5 d, sum x^2 = (3 d)^4 / 12, so sd = sigma sqrt((3 d)^4 / 12) / (A pi d^2 /
  // 4). Two hundred trials know a standard deviation to 5 %; 15 % allowed. The window's own wander
  // and the level taken off are not in the formula.
  constexpr double k_diameter = 20.0;
  constexpr double k_height = 0.3;
  constexpr double k_noise = 0.006;
  const auto clean = filled(90, 90, [](const Vec2& place) {
    return glm::distance(place, Vec2{45.0, 45.0}) < 0.5 * k_diameter ? k_height : 0.0;
  });
  double squares = 0.0;
  for (std::uint32_t trial = 0; trial < 200; ++trial) {
    photo::BoardView view = clean;
    for (std::size_t k = 0; k < view.cells(); ++k) {
      view.light[k] += static_cast<float>(
          k_noise * support::seeded_normal(trial, static_cast<std::uint32_t>(k), 1));
    }
    const Moments moments = photo::moments_around(view, {45.0, 45.0}, 20.0, {}, k_noise);
    CHECK(moments.settled);
    const Vec2 off = moments.middle - Vec2{45.0, 45.0};
    squares += 0.5 * glm::dot(off, off);
    CHECK(moments.leverage == doctest::Approx(std::pow(3.0 * k_diameter, 4) / 12.0).epsilon(0.25));
  }
  const double expected = k_noise * std::sqrt(std::pow(3.0 * k_diameter, 4) / 12.0) /
                          (k_height * base::k_pi * k_diameter * k_diameter / 4.0);
  CHECK(std::sqrt(squares / 200.0) == doctest::Approx(expected).epsilon(0.15));
}
