// The trace against published closed forms of beams: perfect paraboloids, the sun's image, Gaussian
// and blurred beams. Sources and raw numbers stand in references/optics/.
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "light_scenes.h"
#include "references/optics/concentrators.h"
#include "references/optics/encircled.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using base::Vec3;
using light_scenes::share_within;
using light_scenes::traced;
using support::check_outside;
using support::OutsideCheck;

constexpr std::uint64_t k_rays = 131072;

/// A share of the light and what stands beside it, but for ours.
struct Share {
  std::string what;
  const char* source;
  double share;
  double rounding;
  double pin;
};

/// Within the table's own rounding and five of the trace's standard errors, which must be small.
void check_share(dish::Dish dish, double radius_m, const Share& expected) {
  light_scenes::set_receiver_radius(dish, radius_m);
  const auto result = traced(dish, {.rays = k_rays, .map_cells = 8});
  const double error = result.standard_error_W / result.power_plane_W;
  CHECK(error < 1e-3);
  support::check_outside({.what = expected.what,
                          .source = expected.source,
                          .outside = expected.share,
                          .ours = result.intercept_factor,
                          .tolerance = expected.rounding + 5.0 * error,
                          .why = "the table's rounding and five standard errors",
                          .pin = expected.pin});
}

/// A small mirror at the origin that faces its receiver at 1 m, with Gaussian errors.
dish::Dish small_mirror(double sigma_rad, double sun_rad) {
  dish::Dish dish = light_scenes::oblique_facet(dish::Disc{1e-6 * 2}, dish::Flat{}, 0.0, 1.0);
  dish.facet_types[0].specularity_error_rad = sigma_rad;
  dish.sun.half_angle_rad = sun_rad;
  return dish;
}

}  // namespace

TEST_CASE("encircled power of a perfect paraboloid") {
  constexpr double share_pins[30] = {
      0.0403670962249, 0.161117554381, 0.36296867347,   0.644058624973, 0.870652170881,
      0.961678407406,  0.998001457307, 0.0337982200669, 0.134521574179, 0.303062703945,
      0.539353172823,  0.728707538011, 0.823373707206,  0.911653484025, 0.959046566968,
      0.984360864629,  0.996254555921, 0.0260696307087, 0.104118504687, 0.234123334709,
      0.416359559843,  0.562485830752, 0.640718532409,  0.731623227377, 0.801126232193,
      0.851572894773,  0.888827070087, 0.941294204413,  0.989297672482, 0.999900916511};
  constexpr double rms_pins[3] = {3.54238614319, 3.96861297591, 4.92260237963};
  for (std::size_t k = 0; k < references::k_paraboloid_encircled.size(); ++k) {
    const auto& row = references::k_paraboloid_encircled[k];
    check_share(light_scenes::whole_paraboloid(row.rim_angle_deg, 1.0), 1e-3 * row.radius_mm,
                {fmt::format("share of a paraboloid's light, rim of {} deg, within {} mm",
                             row.rim_angle_deg, row.radius_mm),
                 references::k_paraboloid_encircled_source, row.share, 3.5e-5, share_pins[k]});
  }
  for (std::size_t k = 0; k < references::k_paraboloid_rms_mm.size(); ++k) {
    const auto& [rim, rms_mm] = references::k_paraboloid_rms_mm[k];
    const auto result = traced(light_scenes::whole_paraboloid(rim, 0.02), {.rays = k_rays});
    support::check_outside(
        {.what = fmt::format("rms radius of a paraboloid's spot, rim of {} deg, mm", rim),
         .source = references::k_paraboloid_encircled_source,
         .outside = rms_mm,
         .ours = 1e3 * glm::length(result.rms_m),
         .tolerance = 1e-3 * rms_mm,
         .why = "the trace",
         .pin = rms_pins[k]});
    CHECK(1e3 * result.facets[0].rms_radius_m == doctest::Approx(rms_mm).epsilon(1e-3));
  }
}

TEST_CASE("radii of 50, 90 and 95 % of a perfect paraboloid's spot") {
  // From the table above at 45 degrees: inner law (r/R)^2 sin^2/sin^2 for 50 %, the rows around it
  // for 90 and 95 %.
  const auto result = traced(light_scenes::whole_paraboloid(45, 0.01), {.rays = k_rays});
  const double inner = 4e-3 * std::sqrt(0.5 / 0.53911);
  CHECK(result.radius_m[0] == doctest::Approx(inner).epsilon(1e-3));
  CHECK(result.radius_m[1] > 5.3e-3);
  CHECK(result.radius_m[1] < 5.45e-3);
  CHECK(result.radius_m[2] > 5.85e-3);
  CHECK(result.radius_m[2] < 5.95e-3);
}

TEST_CASE("peak at the focus and the receiver that catches every edge ray") {
  constexpr double pins[4] = {11582.213296, 23109.9305415, 34684.9420334, 40794.4018128};
  for (std::size_t k = 0; k < references::k_focus.size(); ++k) {
    const auto& row = references::k_focus[k];
    const dish::Dish dish = light_scenes::whole_paraboloid(row.rim_angle_deg, 0.003);
    support::check_outside(
        {.what = fmt::format("peak at the focus, rim of {} deg, traced", row.rim_angle_deg),
         .source = references::k_focus_source,
         .outside = row.peak,
         .ours = traced(dish, {.rays = k_rays}).mean_concentration,
         .tolerance = 0.003 * row.peak,
         .why = "counting in a disc of 3 mm",
         .pin = pins[k]});
    const double aperture = 4.0 * std::tan(0.5 * base::rad_from_deg(row.rim_angle_deg));
    const double radius = 0.5 * aperture * row.diameter_ratio;
    CHECK(share_within(dish, 1.0001 * radius, 65536) == 1.0);
    CHECK(share_within(dish, 0.97 * radius, 65536) < 1.0);
  }
}

TEST_CASE("image of the sun from one point: an ellipse of p t / cos(phi) and p t") {
  // Even ellipses have an rms of half their semi-axis. f = 1 m, zone at 45 degrees.
  const double phi = base::rad_from_deg(45.0);
  const double p = 2.0 / (1.0 + std::cos(phi));
  const Vec3 at{p * std::sin(phi), 0.0, 1.0 - p * std::cos(phi)};
  dish::Dish dish = light_scenes::one_facet(dish::Disc{1e-5}, dish::Flat{}, at,
                                            base::unit({-at.x / 2.0, 0.0, 1.0}));
  dish.receiver.centre_m = {0.0, 0.0, 1.0};
  light_scenes::set_receiver_radius(dish, 0.01);
  const auto result = traced(dish, {.rays = k_rays});
  CHECK(result.rms_m.x == doctest::Approx(0.5 * p * 0.00465 / std::cos(phi)).epsilon(1e-3));
  CHECK(result.rms_m.y == doctest::Approx(0.5 * p * 0.00465).epsilon(1e-3));
  // On axis the image is 9.30007 mm wide for each metre of focal length (2 f tan t).
  const dish::Dish on_axis = small_mirror(0.0, 0.00465);
  CHECK(share_within(on_axis, 0.5 * 9.30008e-3 + 1e-6, 65536) == 1.0);  // and the mirror's own size
  CHECK(share_within(on_axis, 0.5 * 9.29e-3, 65536) == doctest::Approx(0.99784).epsilon(2e-4));
}

TEST_CASE("Gaussian beam error within a disc, a square and a disc off the beam") {
  constexpr double disc_pins[6] = {0.393478393555, 0.675338745117, 0.864669799805,
                                   0.956069946289, 0.988883972168, 0.999671936035};
  constexpr double square_pins[3] = {0.465850830078, 0.911056518555, 0.994689941406};
  constexpr double offset_pins[9] = {0.357025146484,  0.830963134766, 0.982116699219,
                                     0.267204284668,  0.731216430664, 0.956237792969,
                                     0.0819778442383, 0.396499633789, 0.785781860352};
  const dish::Dish dish = small_mirror(0.002, 0.0);
  for (std::size_t k = 0; k < references::k_gaussian_disc.size(); ++k) {
    const auto& [ratio, share] = references::k_gaussian_disc[k];
    check_share(dish, 0.002 * ratio,
                {fmt::format("Gaussian beam within a disc of {} sigma", ratio),
                 references::k_gaussian_disc_source, share, 1e-6, disc_pins[k]});
  }
  for (std::size_t k = 0; k < references::k_gaussian_square.size(); ++k) {
    const auto& [ratio, share] = references::k_gaussian_square[k];
    dish::Dish square = dish;
    square.receiver.shape = dish::RectangleReceiver{0.004 * ratio, 0.004 * ratio};
    support::check_outside(
        {.what = fmt::format("Gaussian beam within a square of half width {} sigma", ratio),
         .source = references::k_gaussian_square_source,
         .outside = share,
         .ours = traced(square, {.rays = k_rays}).intercept_factor,
         .tolerance = 7e-4,
         .why = "counting, 1.3e5 rays",
         .pin = square_pins[k]});
  }
  for (std::size_t k = 0; k < references::k_gaussian_offset.size(); ++k) {
    const auto& [offset, ratio, share] = references::k_gaussian_offset[k];
    dish::Dish moved = dish;
    moved.receiver.centre_m.y += 0.002 * offset;
    check_share(moved, 0.002 * ratio,
                {fmt::format("Gaussian beam {} sigma off a disc of {} sigma", offset, ratio),
                 references::k_gaussian_offset_source, share, 1e-6, offset_pins[k]});
  }
}

TEST_CASE("an even sun blurred by a Gaussian") {
  constexpr double pins[21] = {0.246017456055, 0.802543640137, 0.994979858398,  0.199440002441,
                               0.614669799805, 0.901214599609, 0.988380432129,  0.450263977051,
                               0.747009277344, 0.916618347168, 0.0943374633789, 0.326850891113,
                               0.590301513672, 0.797737121582, 0.973335266113,  0.180870056152,
                               0.549880981445, 0.958572387695, 0.110855102539,  0.375015258789,
                               0.846824645996};
  for (std::size_t k = 0; k < references::k_blurred_disc.size(); ++k) {
    const auto& row = references::k_blurred_disc[k];
    check_share(
        small_mirror(0.00465 * row.sigma_over_a, 0.00465), 0.00465 * row.radius_over_a,
        {fmt::format("blurred disc, sigma {} A, within {} A", row.sigma_over_a, row.radius_over_a),
         references::k_blurred_disc_source, row.share, 2e-5, pins[k]});
  }
}

// A tilt e turns the ray by 2 e in the plane of incidence and by 2 e cos i across it; specularity
// counts once; variances add.
TEST_CASE("slope errors count twice, specularity once, and across the incidence less") {
  constexpr std::array<std::array<double, 2>, 5> across_per_slope = {
      {{0, 2}, {15, 1.931852}, {22.5, 1.847759}, {30, 1.732051}, {45, 1.414214}}};
  constexpr double pins[5] = {1.99988613276, 1.93174155092, 1.84765322932, 1.73195081585,
                              1.41413087061};
  constexpr double sum_pin = 4.73343810986;
  OutsideCheck check{
      .source = "Bendt & Rabl, SERI/TR-631-336 (1980); Stine & Geyer ch. 8: beam errors",
      .why = "0.3 %: tangent against angle at 5 mrad, and 1.3e5 rays"};
  for (std::size_t k = 0; k < across_per_slope.size(); ++k) {
    const auto& [incidence, factor] = across_per_slope[k];
    dish::Dish dish = light_scenes::oblique_facet(dish::Disc{2e-6}, dish::Flat{}, incidence, 1.0);
    dish.sun.half_angle_rad = 0.0;
    dish.facet_types[0].slope_error_rad = 0.001;
    const auto slope = traced(dish, {.rays = k_rays});
    CHECK(slope.rms_m.x == doctest::Approx(0.002).epsilon(0.003));
    check.what = fmt::format("beam across the incidence of {} deg over slope", incidence);
    check.outside = factor;
    check.ours = 1e3 * slope.rms_m.y;
    check.tolerance = 0.003 * factor;
    check.pin = pins[k];
    check_outside(check);
  }
  // Slope 2, specularity 1 mrad and the sun's 2.325: 4^2 + 1 + 2.325^2 = 4.7338^2.
  dish::Dish dish = small_mirror(0.001, 0.00465);
  dish.facet_types[0].slope_error_rad = 0.002;
  check.what = "beam of slope, specularity and sun, mrad per axis";
  check.outside = 4.7338;
  check.ours = 1e3 * traced(dish, {.rays = k_rays}).rms_m.x;
  check.tolerance = 0.003 * check.outside;
  check.pin = sum_pin;
  check_outside(check);
}
