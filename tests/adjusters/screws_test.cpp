// Three screws and their plane: closed forms, exactness both ways, and what a bracket refuses.
#include "adjusters/screws.h"

#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

#include "base/units.h"
#include "support/figures.h"
#include "support/outside.h"

namespace {

using adjusters::Bracket;
using adjusters::FacePose;
using adjusters::Heights;
using base::Vec2;
using base::Vec3;

dish::Adjuster at(double x_m, double y_m, const char* label = "1") {
  return {.label = label, .x_m = x_m, .y_m = y_m};
}

dish::Mount three_screw_mount() {
  const double s = std::sqrt(3.0) / 2.0;
  return {.name = {"plate"},
          .adjusters = {at(0.0, 0.08, "1"), at(-0.08 * s, -0.04, "2"), at(0.08 * s, -0.04, "3")}};
}

dish::Facet facet_at(const Vec3& centre) {
  return {.id = {"A1"}, .mount = {"plate"}, .centre_m = centre};
}

Bracket bracket_at(const dish::Facet& facet, const dish::Mount& mount, const FacePose& nominal) {
  auto bracket = adjusters::bracket_of(facet, &mount, nominal);
  REQUIRE(bracket.ok());
  return std::move(bracket).value();
}

double angle(const Vec3& a, const Vec3& b) {
  return std::atan2(glm::length(glm::cross(a, b)), glm::dot(a, b));
}

struct Random {
  std::mt19937 engine{20240611};
  double operator()(double least, double most) {
    return least + (most - least) * (static_cast<double>(engine()) / 4294967296.0);
  }
};

}  // namespace

// Screws at (a, 0), (-a/2, +-a sqrt3/2) give slopes gx = (2 h1 - h2 - h3) / (3 a), gy = (h2 - h3) /
// (sqrt3 a), piston mean(h); a = 100 mm.
TEST_CASE("three heights on an even circle give the textbook slopes") {
  struct Row {
    const char* what;
    Heights heights_mm;
    std::array<double, 3> plane;  ///< mrad, mrad, mm
  };
  const Row rows[] = {{"two screws up", {0.25, 0.0, 0.1}, {1.3333333, -0.5773503, 0.1166667}},
                      {"three screws moved", {0.1, 0.3, -0.2}, {0.3333333, 2.8867513, 0.0666667}}};
  constexpr double pins[2][3] = {{1.33333333333, -0.57735026919, 0.116666666667},
                                 {0.333333333333, 2.88675134595, 0.0666666666667}};
  const char* parts[] = {"slope along x, mrad", "slope along y, mrad", "piston, mm"};
  const double s = std::sqrt(3.0) / 2.0;
  const Bracket bracket{.seats_m = {Vec2{0.1, 0.0}, {-0.05, 0.1 * s}, {-0.05, -0.1 * s}}};
  for (std::size_t k = 0; k < 2; ++k) {
    const Heights& mm = rows[k].heights_mm;
    const auto plane = adjusters::plane_through(bracket, {mm[0] / 1e3, mm[1] / 1e3, mm[2] / 1e3});
    const double ours[] = {plane.alpha * 1e3, plane.beta * 1e3, plane.height0_m * 1e3};
    for (std::size_t part = 0; part < 3; ++part) {
      support::check_outside({.what = fmt::format("{}, {}", rows[k].what, parts[part]),
                              .source = "plane through three points, worked by hand",
                              .outside = rows[k].plane[part],
                              .ours = ours[part],
                              .tolerance = 1e-7,
                              .why = support::k_half_digit,
                              .pin = pins[k][part]});
    }
  }
}

// g / (1.5 rho) for one screw of an even circle.
TEST_CASE("one turn of one screw tilts a facet by lead over one and a half radii") {
  const auto mount = three_screw_mount();
  const FacePose nominal{{0.3, 0.2, 0.02}, base::unit({-0.07, -0.05, 1.0})};
  const Bracket bracket = bracket_at(facet_at(nominal.centre), mount, nominal);
  const auto turned = adjusters::displaced_pose(bracket, nominal, {0.001, 0.0, 0.0});
  const double tilt = angle(turned.normal, nominal.normal);
  constexpr double pin = 8.33314044014;
  support::check_outside({.what = "tilt of a facet by one turn of M6 on 80 mm, mrad",
                          .source = "plane through three points, worked by hand",
                          .outside = 8.33,
                          .ours = 1e3 * tilt,
                          .tolerance = 0.005,
                          .why = support::k_half_digit,
                          .pin = pin});
  CHECK(std::abs(tilt - 0.001 / (1.5 * 0.08)) < 1e-4 * tilt);
  support::record_figure("adjusters/tilt_per_turn_rad", tilt);
}

// A flat bracket under a facet canted by psi needs more travel for the same small tilt: sec^2 psi
// in the canting plane, sec psi across it.
TEST_CASE("a flat bracket under a canted facet asks for more travel") {
  struct Row {
    double psi_deg, in_plane, across;
  };
  const Row rows[] = {{5.0, 1.007654, 1.003820},
                      {10.0, 1.031091, 1.015427},
                      {15.0, 1.071797, 1.035276},
                      {20.0, 1.132474, 1.064178}};
  constexpr double pins[4][2] = {{1.00765426625, 1.00381983754},
                                 {1.03109120413, 1.01542661189},
                                 {1.0717967697, 1.03527618041},
                                 {1.1324743314, 1.06417777248}};
  for (std::size_t k = 0; k < 4; ++k) {
    const double psi = base::rad_from_deg(rows[k].psi_deg);
    const Vec3 n{std::sin(psi), 0.0, std::cos(psi)};
    const Vec3 in_plane{std::cos(psi), 0.0, -std::sin(psi)};
    const Bracket bracket{.seats_m = {Vec2{0.08, 0.0}, {-0.04, 0.07}, {-0.04, -0.07}}};
    const double tilt = 1e-6;
    const auto slope_change = [&](const Vec3& direction) {
      const auto more = adjusters::slopes_of_normal(bracket, base::unit(n + tilt * direction));
      const auto less = adjusters::slopes_of_normal(bracket, base::unit(n - tilt * direction));
      return (more - less) / (2.0 * tilt);
    };
    const double ours[] = {std::abs(slope_change(in_plane).x),
                           std::abs(slope_change({0.0, 1.0, 0.0}).y)};
    const double table[] = {rows[k].in_plane, rows[k].across};
    const char* ways[] = {"in the canting plane", "across"};
    for (std::size_t way = 0; way < 2; ++way) {
      support::check_outside(
          {.what = fmt::format("travel {}, canted {} deg", ways[way], rows[k].psi_deg),
           .source = "table of secants: squared in the plane, plain across it",
           .outside = table[way],
           .ours = ours[way],
           .tolerance = 6e-7,
           .why = support::k_half_digit,
           .pin = pins[k][way],
           .tightness = 1e-8});  // central differences
    }
    if (k == 3) support::record_figure("adjusters/travel_ratio_20deg", ours[0]);
  }
}

TEST_CASE("heights and poses undo each other for any finite tilt") {
  Random random;
  for (int trial = 0; trial < 200; ++trial) {
    auto mount = three_screw_mount();
    mount.lie = trial % 2 == 0 ? dish::BracketLie::facet : dish::BracketLie::aperture;
    mount.face_offset_m = random(0.0, 0.03);
    mount.standoff_m = random(0.0, 0.05);
    for (auto& adjuster : mount.adjusters) {
      adjuster.x_m += random(-0.02, 0.02);
      adjuster.y_m += random(-0.02, 0.02);
    }
    const FacePose nominal{{random(-1.0, 1.0), random(-1.0, 1.0), random(0.0, 0.3)},
                           base::unit({random(-0.4, 0.4), random(-0.4, 0.4), 1.0})};
    dish::Facet facet = facet_at(nominal.centre);
    facet.clocking_rad = random(-3.0, 3.0);
    if (trial % 5 == 0) {
      facet.bracket = dish::Bracket{.origin_m = nominal.centre - Vec3{0.01, -0.02, 0.05},
                                    .x = {1.0, 0.1, 0.05},
                                    .y = {0.0, 2.0, 0.1}};
    }
    const Bracket bracket = bracket_at(facet, mount, nominal);
    const std::array<double, 3> displacement{random(-5e-3, 5e-3), random(-5e-3, 5e-3),
                                             random(-5e-3, 5e-3)};
    // Nothing moved: nominal. Moved and back: nominal. Heights of a pose give that pose.
    const FacePose still = adjusters::displaced_pose(bracket, nominal, {0.0, 0.0, 0.0});
    CHECK(glm::distance(still.centre, nominal.centre) < 1e-14);
    CHECK(glm::distance(still.normal, nominal.normal) < 1e-14);
    const FacePose there = adjusters::displaced_pose(bracket, nominal, displacement);
    const FacePose back = adjusters::displaced_pose(
        bracket, there, {-displacement[0], -displacement[1], -displacement[2]});
    CHECK(angle(back.normal, nominal.normal) < 1e-14);
    const Heights before = adjusters::heights_from_pose(bracket, nominal);
    const Heights after = adjusters::heights_from_pose(bracket, there);
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(std::abs(after[k] - before[k] - displacement[k]) < 1e-14);
    }
    const FacePose again = adjusters::pose_from_heights(bracket, after);
    CHECK(glm::distance(again.centre, there.centre) < 1e-14);
    CHECK(glm::distance(again.normal, there.normal) < 1e-14);
  }
}

TEST_CASE("it does not matter which screw is called the first") {
  Random random;
  const FacePose nominal{{0.4, -0.3, 0.03}, base::unit({-0.1, 0.07, 1.0})};
  const dish::Mount mount = three_screw_mount();
  dish::Mount turned_round = mount;
  std::rotate(turned_round.adjusters.begin(), turned_round.adjusters.begin() + 1,
              turned_round.adjusters.end());
  const auto a = bracket_at(facet_at(nominal.centre), mount, nominal);
  const auto b = bracket_at(facet_at(nominal.centre), turned_round, nominal);
  const std::array<double, 3> d{random(-4e-3, 4e-3), random(-4e-3, 4e-3), random(-4e-3, 4e-3)};
  const auto one = adjusters::displaced_pose(a, nominal, d);
  const auto other = adjusters::displaced_pose(b, nominal, {d[1], d[2], d[0]});
  CHECK(glm::distance(one.centre, other.centre) < 1e-15);
  CHECK(glm::distance(one.normal, other.normal) < 1e-15);
}

// Source: thread rule, a right-hand thread turned clockwise travels away from the person who turns
// it, relative to its mating thread. Constructions worked out one by one.
TEST_CASE("a clockwise turn moves the corner the way the construction says") {
  using dish::Carry;
  using dish::Hand;
  using dish::Side;
  struct Row {
    const char* construction;
    Side side;
    Carry carry;
    double sign;
  };
  const Row rows[] = {
      {"push screw in the bracket, spring pulls back", Side::back, Carry::with, 1.0},
      {"screw through the facet from the front", Side::front, Carry::with, -1.0},
      {"stud on the facet, nut behind the bracket", Side::back, Carry::against, -1.0},
      {"captive screw, nut in the facet", Side::back, Carry::against, -1.0},
      {"stud in the bracket, facet on a nut turned in front", Side::front, Carry::with, -1.0},
  };
  for (const Row& row : rows) {
    CAPTURE(row.construction);
    dish::Adjuster adjuster{.pitch_m = 0.001, .turned_from = row.side, .carry = row.carry};
    CHECK(adjusters::rise_per_turn_m(adjuster) == row.sign * 0.001);
    adjuster.hand = Hand::left;
    CHECK(adjusters::rise_per_turn_m(adjuster) == -row.sign * 0.001);
  }
}

TEST_CASE("a bracket that cannot hold a plane is refused, each with its own message") {
  const FacePose nominal{{0.5, 0.0, 0.03}, base::unit({-0.12, 0.0, 1.0})};
  const dish::Facet facet = facet_at(nominal.centre);
  const auto line_of = [&](const dish::Facet& f, const dish::Mount* mount) {
    const auto bracket = adjusters::bracket_of(f, mount, nominal);
    REQUIRE(!bracket.ok());
    return base::to_line(bracket.problems().front());
  };
  const auto says = [](const std::string& line, const char* words) {
    CAPTURE(line);
    CHECK(line.find("A1") != std::string::npos);
    CHECK(line.find(words) != std::string::npos);
  };
  says(line_of(facet, nullptr), "the name of a mount of this dish");
  dish::Facet unmounted = facet;
  unmounted.mount.text.clear();
  says(line_of(unmounted, nullptr), "without one the facet has no screws");

  dish::Mount mount = three_screw_mount();
  mount.adjusters.pop_back();
  says(line_of(facet, &mount), "exactly three");
  mount.adjusters.clear();
  says(line_of(facet, &mount), "0 adjusters");

  mount = three_screw_mount();
  mount.adjusters[0] = at(0.0, -0.0401, "1");
  says(line_of(facet, &mount), "three adjusters in a line");
  for (auto& adjuster : mount.adjusters) adjuster = at(0.01, 0.01);
  says(line_of(facet, &mount), "three adjusters in a line");

  mount = three_screw_mount();
  mount.adjusters[1].pitch_m = 0.0;
  says(line_of(facet, &mount), "screw \"2\"");
  mount.adjusters[1].pitch_m = std::nan("");
  says(line_of(facet, &mount), "a pitch above zero");

  mount = three_screw_mount();
  dish::Facet own = facet;
  own.bracket = dish::Bracket{.x = {1.0, 0.0, 0.0}, .y = {2.0, 0.0, 0.0}};
  says(line_of(own, &mount), "neither zero nor parallel");
  own.bracket = dish::Bracket{.x = {1.0, 0.0, 0.0}, .y = {0.0, -1.0, 0.0}};
  says(line_of(own, &mount), "less than 90 degrees");
}
