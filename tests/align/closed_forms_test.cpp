// Where spots lie and how they move, against closed forms of one mirror.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <cmath>

#include "align/observe.h"
#include "base/units.h"
#include "optics/canting.h"
#include "support/figures.h"
#include "support/outside.h"
#include "support/reference_dish.h"

namespace {

using base::Vec2;
using base::Vec3;
using support::check_outside;
using support::k_half_digit;
using support::one_facet_dish;

constexpr double k_f = 2.0;

dish::Dish facet_on_paraboloid(double r_m) {
  return one_facet_dish({r_m, 0.0, r_m * r_m / (4.0 * k_f)});
}

align::Sighting sighting(const dish::Dish& dish, const dish::Round& round) {
  return align::sighting_of(dish, round);
}

/// Spot in the directions of the dish's x and y; the board faces the dish, so +x is to the left.
Vec2 spot(const dish::Dish& dish, const adjusters::FacePose& pose, const dish::Round& round) {
  const auto mark = align::expected_mark(dish, dish.facets[0], pose, sighting(dish, round));
  REQUIRE(mark.ok());
  return {-mark.value().board_m.x, mark.value().board_m.y};
}

adjusters::FacePose nominal(const dish::Dish& dish) {
  const auto pose = optics::nominal_pose(dish, dish.facets[0]);
  REQUIRE(pose.ok());
  return pose.value();
}

dish::Board board_at(double z_m) { return {.centre_m = {0.0, 0.0, z_m}}; }

}  // namespace

// A tilt of the normal moves the spot radially by S_r = 2f / (cos^2 i cos 2i) and tangentially by
// S_t = 2f / cos i, with tan i = r / 2f; also 1e-8 relative against these, from central
// differences.
TEST_CASE("a spot moves as the closed sensitivities say") {
  struct Row {
    double r_mm, i_deg, radial, tangential;
  };
  const Row rows[] = {{0.0, 0.0, 4.000000, 4.000000},
                      {250.0, 3.5763, 4.047120, 4.007805},
                      {500.0, 7.1250, 4.191468, 4.031129},
                      {750.0, 10.6197, 4.442371, 4.069705},
                      {1000.0, 14.0362, 4.816667, 4.123106}};
  constexpr double pins[5][2] = {{4.00000000053, 4.00000000053},
                                 {4.04712009861, 4.00780488601},
                                 {4.19146825465, 4.0311288747},
                                 {4.44237095227, 4.0697051496},
                                 {4.81666666786, 4.12310562622}};
  for (std::size_t k = 0; k < std::size(rows); ++k) {
    const Row& row = rows[k];
    CAPTURE(row.r_mm);
    const dish::Dish dish = facet_on_paraboloid(row.r_mm / 1e3);
    const auto pose = nominal(dish);
    const base::Mat3 frame = base::frame_of_normal(pose.normal);
    const auto rate = [&](const Vec3& along) {
      const double step = 1e-5;
      const Vec2 more = spot(dish, {pose.centre, base::unit(pose.normal + step * along)}, {});
      const Vec2 less = spot(dish, {pose.centre, base::unit(pose.normal - step * along)}, {});
      return (more - less) / (2.0 * std::atan(step));
    };
    const double i = std::atan(row.r_mm / 1e3 / (2.0 * k_f));
    CHECK(std::abs(base::deg_from_rad(i) - row.i_deg) < 6e-5);
    const double ours[] = {rate(frame[0]).x, rate(frame[1]).y};
    const double table[] = {row.radial, row.tangential};
    const char* ways[] = {"radially", "tangentially"};
    for (std::size_t way = 0; way < 2; ++way) {
      check_outside(
          {.what = fmt::format("spot moves {}, r {} mm, mm per mrad", ways[way], row.r_mm),
           .source = "law of reflection on a paraboloid, closed forms: sensitivities",
           .outside = table[way],
           .ours = ours[way],
           .tolerance = 6e-7,
           .why = k_half_digit,
           .pin = pins[k][way],
           .tightness = 1e-8});  // central differences
    }
    const double cos_i = std::cos(i);
    CHECK(ours[0] ==
          doctest::Approx(2.0 * k_f / (cos_i * cos_i * std::cos(2.0 * i))).epsilon(1e-8));
    CHECK(ours[1] == doctest::Approx(2.0 * k_f / cos_i).epsilon(1e-8));
    if (row.r_mm == 750.0) support::record_figure("align/radial_sensitivity_750", ours[0]);
  }
}

TEST_CASE("on the axis a spot moves by twice tilt times distance") {
  const dish::Dish dish = facet_on_paraboloid(0.0);
  auto pose = nominal(dish);
  const double tilt = 0.001666667;
  pose.normal = {std::sin(tilt), 0.0, std::cos(tilt)};
  constexpr double pin = 6.66669269148;
  check_outside({.what = "spot on the axis, tilt of 1.666667 mrad, mm",
                 .source = "reflection turns a ray by twice the tilt: 2 m",
                 .outside = 6.6667,
                 .ours = spot(dish, pose, {}).x * 1e3,
                 .tolerance = 1e-4,
                 .why = "half a last digit, and the tangent of 3 mrad",
                 .pin = pin});
}

// A lamp 25 m away on the axis, a board at f and one at the conjugate distance, 1/(1/f - 1/L).
TEST_CASE("a lamp's marks are off the centre unless the board is at the conjugate distance") {
  const dish::Dish dish = facet_on_paraboloid(0.75);
  dish::Round round{.source = dish::LampSource{{0.0, 0.0, 25.0}}, .board = board_at(k_f)};
  constexpr double pins[2] = {66.0511817886, 4.3794891603};
  support::OutsideCheck check{.source = "exact ray reflection, worked by hand: a lamp 25 m away",
                              .why = k_half_digit};
  const double at_focus = std::abs(spot(dish, nominal(dish), round).x) * 1e3;
  check.what = "rim's mark with a lamp, board at f, mm";
  check.outside = 66.0;
  check.ours = at_focus;
  check.tolerance = 0.5;
  check.pin = pins[0];
  check_outside(check);
  round.board = board_at(2.174);
  check.what = "rim's mark with a lamp, board at 2174 mm, mm";
  check.outside = 4.4;
  check.ours = std::abs(spot(dish, nominal(dish), round).x) * 1e3;
  check.tolerance = 0.05;
  check.pin = pins[1];
  check_outside(check);
  support::record_figure("align/lamp_rim_mark_mm", at_focus);
}

// By reversibility a camera on the axis at 30 m sees in each facet's centre the board point that a
// lamp there would light.
TEST_CASE("a far point on the axis sees known points of the board") {
  const dish::Round round{.source = dish::CameraSource{{0.0, 0.0, 30.0}}, .board = board_at(k_f)};
  const dish::Round lamp{.source = dish::LampSource{{0.0, 0.0, 30.0}}, .board = board_at(k_f)};
  constexpr double places_m[] = {0.25, 0.75};
  constexpr double radii_mm[] = {16.85, 55.12};
  constexpr double pins[2] = {16.8497676967, 55.1232216923};
  for (std::size_t k = 0; k < 2; ++k) {
    const dish::Dish dish = facet_on_paraboloid(places_m[k]);
    const Vec2 seen = spot(dish, nominal(dish), round);
    check_outside({.what = fmt::format("seen from 30 m in a facet at r {} m, mm", places_m[k]),
                   .source = "exact ray reflection, worked by hand: a camera 30 m away",
                   .outside = radii_mm[k],
                   .ours = std::abs(seen.x) * 1e3,
                   .tolerance = 0.005,
                   .why = k_half_digit,
                   .pin = pins[k]});
    CHECK(seen == spot(dish, nominal(dish), lamp));
    if (k == 1) support::record_figure("align/look_back_rim_mm", std::abs(seen.x) * 1e3);
  }
}

// A camera that stands 10 mm to the side at 30 m: 10 mm times f over 30 m, 0.667 mm, in the middle,
// a little more toward the rim; 0.04 mm is the spread over the dish.
TEST_CASE("a camera that is not where it is thought to be moves all marks together") {
  for (const double r_m : {0.0, 0.25, 0.5, 0.75}) {
    const dish::Dish dish = facet_on_paraboloid(r_m);
    const auto seen = [&](double x_m) {
      return spot(dish, nominal(dish),
                  {.source = dish::CameraSource{{x_m, 0.0, 30.0}}, .board = board_at(k_f)});
    };
    const double moved_mm = glm::distance(seen(0.01), seen(0.0)) * 1e3;
    CHECK(std::abs(moved_mm - 0.69) < 0.04);
    if (r_m == 0.0) CHECK(moved_mm == doctest::Approx(10.0 * 2.0 / 30.0).epsilon(1e-6));
    if (r_m != 0.5) continue;
    constexpr double pin = 0.693476233157;
    check_outside({.what = "mark of a camera that stands 10 mm beside, mm",
                   .source = "exact ray reflection, worked by hand: a camera 30 m away",
                   .outside = 0.69,
                   .ours = moved_mm,
                   .tolerance = 0.005,
                   .why = k_half_digit,
                   .pin = pin});
  }
}

// A laser at distance l that hits a mirror of radius R off its centre by e, and is aimed there,
// shifts the spot at distance d by e (1 - 2d/R + d/l): nothing for parallel light on a mirror that
// focuses there, e on a flat one.
TEST_CASE("a laser that hits beside the facet's centre shifts the spot as the mirror's form says") {
  const dish::Dish dish = facet_on_paraboloid(0.0);
  const double e = 0.005;
  struct Row {
    double radius, reach, shift_per_e;
  };
  const double far = 1e6;
  const Row rows[] = {{4.0, far, 0.0},
                      {far, far, 1.0},
                      {4.0, 6.0, 0.333333},
                      {far, 6.0, 1.333333},
                      {3.0, 5.0, 0.066667}};
  constexpr double pins[5] = {2.00000937495e-06, 0.999998, 0.333334375001, 1.33332933333,
                              0.0666683518545};
  for (std::size_t k = 0; k < std::size(rows); ++k) {
    const Row& row = rows[k];
    const dish::Round round{.source = dish::AimedLaserSource{{0.0, 0.0, row.reach}},
                            .board = board_at(k_f)};
    const adjusters::FacePose beside{{e, 0.0, e * e / (2.0 * row.radius)},
                                     base::unit({-e / row.radius, 0.0, 1.0})};
    const double shift = spot(dish, beside, round).x - spot(dish, nominal(dish), round).x;
    check_outside({.what = fmt::format("shift of a laser beside the centre, R {} m, l {} m",
                                       row.radius, row.reach),
                   .source = "paraxial mirror equation, Born & Wolf 4.4: e (1 - 2d/R + d/l)",
                   .outside = row.shift_per_e,
                   .ours = shift / e,
                   .tolerance = 1e-3,
                   .why = "third order at e/R = 1/800",
                   .pin = pins[k]});
  }
}

// First order: a direction of the light that is wrong by ds makes the normal wrong by ds/2; a
// facet's centre that is wrong by dC moves the mark by about dC, 20 %.
TEST_CASE("wrong light and wrong places make errors of known size") {
  const dish::Dish dish = facet_on_paraboloid(0.5);
  const auto& facet = dish.facets[0];
  const auto pose = nominal(dish);
  const double ds = 1e-3;
  const auto right = align::normal_from_spot(dish, facet, pose.normal, pose.centre,
                                             sighting(dish, {}), {0.0, 0.0});
  const auto wrong =
      align::normal_from_spot(dish, facet, pose.normal, pose.centre,
                              sighting(dish, {.source = dish::SunSource{{0.0, ds}}}), {0.0, 0.0});
  REQUIRE((right.ok() && wrong.ok()));
  const double off = glm::distance(right.value(), wrong.value());
  // Across the plane of incidence s + o is shorter than 2 by cos i.
  constexpr double pin = 0.503890936287;
  check_outside({.what = "normal's error over the light's, across the incidence",
                 .source = "bisector of two unit vectors, first order: 1 / (2 cos i)",
                 .outside = 0.5 / std::cos(std::atan(0.125)),
                 .ours = off / ds,
                 .tolerance = 1e-3,
                 .why = "second order of 1 mrad",
                 .pin = pin});
  for (const Vec3 step : {Vec3{1e-3, 0.0, 0.0}, {0.0, 1e-3, 0.0}}) {
    const Vec2 moved = spot(dish, {pose.centre + step, pose.normal}, {});
    CHECK(glm::length(moved) == doctest::Approx(1e-3).epsilon(0.2));
  }
}

// Straight lines through the focus: on a board at z_b inside the focus a facet marks (x, y)
// (f - z_b) / (f - z_C).
TEST_CASE("a board inside the focus shows a small copy of the dish") {
  const dish::Round round{.board = board_at(1.6)};
  constexpr double pins[3] = {0.0501960784314, 0.149066719399, 0.155465587045};
  const Vec2 places[] = {{0.25, 0.0}, {-0.4, 0.6}, {0.0, -0.75}};
  for (std::size_t k = 0; k < 3; ++k) {
    const double z = glm::dot(places[k], places[k]) / (4.0 * k_f);
    const dish::Dish dish = one_facet_dish({places[k].x, places[k].y, z});
    const Vec2 mark = spot(dish, nominal(dish), round);
    const Vec2 copy = places[k] * ((k_f - 1.6) / (k_f - z));
    CHECK(glm::distance(mark, copy) < 1e-14);
    check_outside({.what = fmt::format("mark inside the focus, place {}, m", k),
                   .source = "Hartmann test (Optical Shop Testing, ch. 10): similar triangles",
                   .outside = glm::length(copy),
                   .ours = glm::length(mark),
                   .tolerance = 1e-14,
                   .why = "rounding",
                   .pin = pins[k]});
  }
}

// Board 10 mm too far: the rim's mark moves by 10 mm tan(phi) to the other side of the axis, phi =
// 2i. Facet c = 3 mm along its normal: its parallel bundle, and so its spot, goes with it, by
// c sin i across the ray.
TEST_CASE("a board at the wrong distance and a facet too high move the mark") {
  const dish::Dish dish = facet_on_paraboloid(0.75);
  const auto pose = nominal(dish);
  constexpr double pins[2] = {-3.88663967611, 0.552865605151};
  const double far = spot(dish, pose, {.board = board_at(2.01)}).x * 1e3;
  check_outside({.what = "rim, board 10 mm too far, mm",
                 .source = "straight rays, 10 mm tan(2i)",
                 .outside = -3.9,
                 .ours = far,
                 .tolerance = 0.05,
                 .why = k_half_digit,
                 .pin = pins[0]});
  CHECK(far == doctest::Approx(-10.0 * std::tan(2.0 * std::atan(0.75 / 4.0))));
  // Across the ray: the shift on the board times the cosine of the ray's slope.
  const double raised = spot(dish, {pose.centre + 0.003 * pose.normal, pose.normal}, {}).x * 1e3;
  const double phi = 2.0 * std::atan(0.75 / 4.0);
  check_outside({.what = "rim, facet 3 mm too high, across the ray, mm",
                 .source = "parallel bundle, 3 mm sin i",
                 .outside = 0.553,
                 .ours = std::abs(raised) * std::cos(phi),
                 .tolerance = 0.0005,
                 .why = k_half_digit,
                 .pin = pins[1]});
  CHECK(std::abs(raised) * std::cos(phi) == doctest::Approx(3.0 * std::sin(0.5 * phi)));
}

TEST_CASE("a sun that is off to one side moves the spot to the other") {
  const dish::Dish dish = facet_on_paraboloid(0.0);
  const dish::Round round{.source = dish::SunSource{{0.003, -0.002}}};
  const Vec2 seen = spot(dish, nominal(dish), round);
  constexpr double pin = -6;
  check_outside({.what = "spot of a sun that is off by 3 mrad, mm",
                 .source = "law of reflection at the vertex, -f eps",
                 .outside = -6.0,
                 .ours = 1e3 * seen.x,
                 .tolerance = 1e-9,
                 .why = "rounding",
                 .pin = pin});
  CHECK(seen.y == doctest::Approx(2.0 * 0.002));
}

TEST_CASE("a laser along the axis is a sun without error") {
  const dish::Dish dish = facet_on_paraboloid(0.6);
  const auto pose = nominal(dish);
  const Vec2 laser = spot(dish, pose, {.source = dish::LaserSource{}});
  const Vec2 sun = spot(dish, pose, {});
  CHECK(glm::distance(laser, sun) < 1e-15);
  CHECK(glm::length(sun) < 1e-14);
}

TEST_CASE("impossible sightings are problems that name the facet and say why") {
  const dish::Dish dish = facet_on_paraboloid(0.5);
  const auto& facet = dish.facets[0];
  const auto pose = nominal(dish);
  const auto line = [](const auto& result) {
    REQUIRE(!result.ok());
    return base::to_line(result.problems().front());
  };
  const auto has = [](const std::string& text, const char* words) {
    CAPTURE(text);
    CHECK(text.find("A1") != std::string::npos);
    CHECK(text.find(words) != std::string::npos);
  };
  const auto inverse = [&](const dish::Round& round, const Vec2& seen) {
    return align::normal_from_spot(dish, facet, pose.normal, pose.centre, sighting(dish, round),
                                   seen);
  };
  dish::Board away = board_at(2.0);
  away.lit_normal = {0.0, 0.0, 1.0};
  has(line(inverse({}, {5.0, 0.0})), "degrees of nominal");
  has(line(inverse({.board = away}, {0.0, 0.0})), "lit side faces this facet");
  has(line(inverse({}, {std::nan(""), 0.0})), "two numbers");
  has(line(inverse({.source = dish::LampSource{pose.centre}}, {0.0, 0.0})), "lamp");
  const auto forward = [&](const dish::Round& round, const adjusters::FacePose& at) {
    return align::expected_mark(dish, facet, at, sighting(dish, round));
  };
  has(line(forward({.board = away}, pose)), "away from the board's lit side");
  has(line(forward({}, {pose.centre, {0.0, 0.0, -1.0}})), "light from behind");
  has(line(forward({.source = dish::LampSource{{0.5, 0.0, -3.0}}}, pose)), "light from behind");
}
