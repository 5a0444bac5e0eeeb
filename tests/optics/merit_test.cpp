// Figures of merit against textbooks' limits and the trace itself.
#include "optics/merit.h"

#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "light_scenes.h"
#include "optics/outline_points.h"
#include "optics/quadric.h"
#include "references/optics/concentrators.h"
#include "references/optics/limits.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using support::k_half_digit;

double half_angle(bool in_degrees, double value) {
  return in_degrees ? base::rad_from_deg(value) : base::rad_from_mrad(value);
}

}  // namespace

TEST_CASE("limits of concentration") {
  constexpr double dish_pins[8] = {46248.4545049, 46747.308771, 46049.6025069, 45031.9705092,
                                   40000.333335,  10000.33334,  13131.5587385, 3283.13970365};
  constexpr double trough_pins[5] = {215.054538443, 216.211259584, 214.591711179, 212.207376189,
                                     200.000833336};
  for (std::size_t k = 0; k < references::k_limits.size(); ++k) {
    const auto& row = references::k_limits[k];
    const double t = half_angle(row.in_degrees, row.half_angle);
    const std::string sun = fmt::format("{} {}", row.half_angle, row.in_degrees ? "deg" : "mrad");
    support::check_outside({.what = "most suns of a dish under " + sun,
                            .source = references::k_limits_source,
                            .outside = row.dish,
                            .ours = optics::limit_concentration_3d(t),
                            .tolerance = row.dish_rounding,
                            .why = k_half_digit,
                            .pin = dish_pins[k]});
    if (row.trough == 0.0) continue;
    support::check_outside({.what = "most suns of a trough under " + sun,
                            .source = references::k_limits_source,
                            .outside = row.trough,
                            .ours = optics::limit_concentration_2d(t),
                            .tolerance = row.trough_rounding,
                            .why = k_half_digit,
                            .pin = trough_pins[k]});
  }
}

TEST_CASE("receivers of paraboloids, by rim angle") {
  constexpr double pins[9][5] = {
      {1350.264161, 0.0272138902914, 348.640385486, 1394.56154195, 291.394576698},
      {4760.927045, 0.014492864664, 1352.51036607, 5410.04146429, 1025.36566374},
      {8624.90004967, 0.0107677004318, 2890.52840655, 11562.1136262, 1853.28758785},
      {11125.8969971, 0.009480527068, 4777.18683252, 19108.7473301, 2383.93632315},
      {11454.5875195, 0.00934351468677, 5781.05681311, 23124.2272524, 2450.08500168},
      {11089.2945509, 0.00949616037127, 6784.92679369, 27139.7071748, 2367.0095342},
      {8532.27970968, 0.0108259859184, 8671.58521966, 34686.3408786, 1810.48776104},
      {4655.8005459, 0.0146555734557, 10209.6032601, 40838.4130406, 976.892961886},
      {1282.0874045, 0.0279280866462, 11213.4732407, 44853.8929629, 260.195960155}};
  const double t = base::rad_from_mrad(4.65);
  for (std::size_t k = 0; k < references::k_by_rim.size(); ++k) {
    const auto& row = references::k_by_rim[k];
    const double phi = base::rad_from_deg(row.rim_deg);
    const auto check = [&](const char* what, double outside, double ours, double tolerance,
                           double pin) {
      support::check_outside({.what = fmt::format("{}, rim of {} deg", what, row.rim_deg),
                              .source = references::k_by_rim_source,
                              .outside = outside,
                              .ours = ours,
                              .tolerance = tolerance,
                              .why = k_half_digit,
                              .pin = pin});
    };
    check("flat receiver", row.flat, optics::flat_receiver_concentration(phi, t), 5e-3, pins[k][0]);
    check("its diameter over the aperture's", row.diameter_ratio,
          optics::flat_receiver_diameter_ratio(phi, t), 5e-7, pins[k][1]);
    check("ball receiver", row.ball, optics::ball_receiver_concentration(phi, t), 5e-3, pins[k][2]);
    check("middle of the focus", row.focus, optics::focus_concentration(phi, t), 5e-3, pins[k][3]);
    check("flat receiver under 10 mrad", row.flat_10_mrad,
          optics::flat_receiver_concentration(phi, 0.010), 5e-3, pins[k][4]);
  }
  CHECK(optics::flat_receiver_concentration(0.5 * base::k_pi, t) == 0.0);
}

TEST_CASE("the flat receiver does most at half a right angle less half the sun") {
  constexpr double pins[4] = {11454.836357, 11405.3547711, 3225.84317787, 2450.33250166};
  constexpr double rim_pin = 44.8667873126;
  for (std::size_t k = 0; k < references::k_greatest_flat.size(); ++k) {
    const auto& [in_degrees, value, greatest] = references::k_greatest_flat[k];
    const double t = half_angle(in_degrees != 0.0, value);
    const double best = optics::best_flat_receiver_rim_rad(t);
    support::check_outside({.what = fmt::format("greatest flat receiver, sun of {}", value),
                            .source = references::k_greatest_flat_source,
                            .outside = greatest,
                            .ours = optics::flat_receiver_concentration(best, t),
                            .tolerance = 5e-3,
                            .why = k_half_digit,
                            .pin = pins[k]});
    CHECK(optics::flat_receiver_concentration(best + 0.01, t) < greatest);
    CHECK(optics::flat_receiver_concentration(best - 0.01, t) < greatest);
  }
  support::check_outside({.what = "best rim angle of a flat receiver, deg",
                          .source = references::k_greatest_flat_source,
                          .outside = references::k_greatest_flat_rim_deg,
                          .ours = base::deg_from_rad(optics::best_flat_receiver_rim_rad(0.00465)),
                          .tolerance = 5e-5,
                          .why = k_half_digit,
                          .pin = rim_pin});
}

TEST_CASE("a second stage and the ideal cone") {
  constexpr double stage_pins[4] = {40699.4140979, 34499.6001987, 26927.7484395, 22909.175039};
  constexpr double cone_pins[3][3] = {{4, 2, 5.19615242271},
                                      {2, 1.41421356237, 2.41421356237},
                                      {1.33333333333, 1.15470053838, 1.24401693586}};
  for (std::size_t k = 0; k < references::k_two_stage.size(); ++k) {
    const auto& [rim, concentration] = references::k_two_stage[k];
    support::check_outside(
        {.what = fmt::format("dish with a second stage, rim of {} deg", rim),
         .source = references::k_two_stage_source,
         .outside = concentration,
         .ours = optics::two_stage_concentration(base::rad_from_deg(rim), 0.00465),
         .tolerance = 0.05,
         .why = k_half_digit,
         .pin = stage_pins[k]});
  }
  for (std::size_t k = 0; k < references::k_ideal_cones.size(); ++k) {
    const auto& row = references::k_ideal_cones[k];
    const auto cone = optics::ideal_cone(base::rad_from_deg(row[0]), 1.0);
    const double ours[] = {cone.concentration, cone.entrance_radius_m, cone.length_m};
    const char* names[] = {"concentration", "entrance radius", "length"};
    for (std::size_t n = 0; n < 3; ++n) {
      support::check_outside({.what = fmt::format("ideal cone of {} deg, {}", row[0], names[n]),
                              .source = references::k_ideal_cones_source,
                              .outside = row[n + 1],
                              .ours = ours[n],
                              .tolerance = 5e-7,
                              .why = k_half_digit,
                              .pin = cone_pins[k][n]});
    }
    CHECK(cone.focal_length_m == doctest::Approx(1.0 + 1.0 / row[2]).epsilon(1e-6));
  }
}

TEST_CASE("points over an outline give the area of a paraboloid's surface") {
  constexpr double pins[4] = {3.33044414514, 0.818559419286, 3.27423767714, 15.3178064846};
  for (std::size_t k = 0; k < references::k_paraboloid_areas.size(); ++k) {
    const auto& [f, diameter, area] = references::k_paraboloid_areas[k];
    const auto edge = optics::ring_edge(0.5 * diameter, 0.0);
    const auto surface = optics::conic_quadric(0.5 / f, -1.0);
    double sum = 0.0;
    for (const auto& at : optics::outline_points(edge)) {
      const base::Vec3 point{at.uv.x, at.uv.y, optics::sag(surface, at.uv.x, at.uv.y)};
      sum += at.share * edge.area_m2 / optics::normal_at(surface, point).z;
    }
    const bool is_deep = diameter > 2.0 * f;
    support::check_outside(
        {.what = fmt::format("surface of a paraboloid, f {} m, D {} m", f, diameter),
         .source = references::k_paraboloid_areas_source,
         .outside = area,
         .ours = sum,
         .tolerance = (is_deep ? 1e-4 : 2e-6) * area,
         .why = "quadrature over r^2",
         .pin = pins[k]});
  }
}

TEST_CASE("points over an outline have its second moments") {
  const auto moment = [](const optics::Edge& edge) {
    double share = 0.0;
    base::Vec2 first{0.0, 0.0};
    base::Vec2 second{0.0, 0.0};
    for (const auto& at : optics::outline_points(edge)) {
      CHECK(optics::is_inside(edge, at.uv.x, at.uv.y));
      share += at.share;
      first += at.share * at.uv;
      second += at.share * at.uv * at.uv;
    }
    CHECK(share == doctest::Approx(1.0).epsilon(1e-13));
    CHECK(glm::length(first) < 1e-14);
    return second;
  };
  const auto hexagon = moment(optics::make_edge(dish::Hexagon{0.3}, "").value());
  const auto rectangle = moment(optics::make_edge(dish::Rectangle{0.3, 0.2}, "").value());
  CHECK(hexagon.y == doctest::Approx(hexagon.x).epsilon(1e-13));
  CHECK(rectangle.y == doctest::Approx(0.04 / 12.0).epsilon(1e-13));
  struct Row {
    const char* what;
    double closed_form, ours, pin;
  };
  constexpr double pins[4] = {0.00625, 0.0075, 0.01, 0.0125};
  const Row rows[] = {
      {"hexagon, 5 a^2 / 72", 5.0 * 0.09 / 72.0, hexagon.x, pins[0]},
      {"rectangle, w^2 / 12", 0.09 / 12.0, rectangle.x, pins[1]},
      {"disc, d^2 / 16", 0.01, moment(optics::ring_edge(0.2, 0.0)).x, pins[2]},
      {"ring, (a^2 + b^2) / 4", 0.0125, moment(optics::ring_edge(0.2, 0.1)).y, pins[3]}};
  for (const Row& row : rows) {
    support::check_outside({.what = std::string("second moment of a ") + row.what,
                            .source = "plane figures (any table of second moments of area)",
                            .outside = row.closed_form,
                            .ours = row.ours,
                            .tolerance = 1e-13 * row.closed_form,
                            .why = "the rule is exact",
                            .pin = row.pin});
  }
}

// Source: sin^2(phi) of the limit at the middle of the focus (k_focus). Tolerance 0.3 %: counting.
TEST_CASE("a paraboloid of 45 degrees uses half of what is possible at its focus") {
  dish::Dish dish = light_scenes::whole_paraboloid(45, 0.003);
  dish.focal_length_m = 1.0;
  const auto traced = light_scenes::traced(dish, {.rays = 131072});
  const auto merit = optics::merit_of(dish, traced);
  REQUIRE(merit.ok());
  CHECK(merit.value().etendue_use == doctest::Approx(0.5).epsilon(0.003));
  CHECK(merit.value().limit_concentration ==
        doctest::Approx(references::k_limit_4_65_mrad).epsilon(1e-7));
  CHECK(base::deg_from_rad(merit.value().rim_angle_rad) == doctest::Approx(45.0).epsilon(0.3));
  constexpr double image_pin = 9.30006703033;
  support::check_outside({.what = "the sun's image on the axis, mm for each metre",
                          .source = "Stine & Geyer, Power From The Sun, ch. 8: 2 f tan t",
                          .outside = 9.30007,
                          .ours = 1e3 * merit.value().sun_image_m,
                          .tolerance = 5e-6,
                          .why = k_half_digit,
                          .pin = image_pin});
  CHECK(merit.value().effective_focal_ratio == doctest::Approx(0.603553).epsilon(1e-4));
}

TEST_CASE("two mirrors magnify as their table says") {
  for (const auto& row : references::k_two_mirrors) {
    const double k = row.is_gregory ? (row.f1 + row.b) / (row.f1 * (row.m - 1.0))
                                    : (row.f1 + row.b) / (row.f1 * (row.m + 1.0));
    const double z = row.is_gregory ? row.f1 * (1.0 + k) : row.f1 * (1.0 - k);
    dish::Secondary conic{.form = dish::HyperboloidSecondary{row.f1, -row.b},
                          .vertex_m = {0.0, 0.0, z},
                          .diameter_m = 0.1};
    if (row.is_gregory) conic.form = dish::EllipsoidSecondary{row.f1, -row.b};
    CHECK(optics::magnification_of(conic, row.f1) == doctest::Approx(row.m).epsilon(1e-6));
    // A sphere of the same radius at the vertex magnifies the same on its axis.
    conic.form = dish::SphereSecondary{row.is_gregory ? -row.r2 : row.r2};
    CHECK(optics::magnification_of(conic, row.f1) == doctest::Approx(row.m).epsilon(1e-5));
  }
  dish::Secondary flat{.vertex_m = {0.0, 0.0, 1.0}};
  CHECK(optics::magnification_of(flat, 2.0) == doctest::Approx(1.0).epsilon(1e-14));
  // Bulging as much as the focus is far away, it sends the light out parallel.
  flat.form = dish::SphereSecondary{2.0};
  CHECK(optics::magnification_of(flat, 2.0) == 0.0);
}
