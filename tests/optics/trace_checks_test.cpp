// The trace against published closed forms and benchmarks. Sources, tolerances and their reasons
// stand beside the numbers in references/optics/.
#include <cmath>

#include "base/units.h"
#include "light_scenes.h"
#include "optics/canting.h"
#include "optics/live.h"
#include "optics/path.h"
#include "optics/scene.h"
#include "references/optics/concentrators.h"
#include "references/optics/encircled.h"

#include <doctest/doctest.h>

namespace {

using base::Vec2;
using base::Vec3;
using light_scenes::traced;

constexpr std::uint64_t k_rays = 131072;

double share_within(dish::Dish dish, double radius_m, std::uint64_t rays = k_rays) {
  light_scenes::set_receiver_radius(dish, radius_m);
  return traced(dish, {.rays = rays, .map_cells = 8}).intercept_factor;
}

/// Within the table's own rounding and five of the trace's standard errors, which must be small.
void check_share(dish::Dish dish, double radius_m, double share, double rounding) {
  light_scenes::set_receiver_radius(dish, radius_m);
  const auto result = traced(dish, {.rays = k_rays, .map_cells = 8});
  const double error = result.standard_error_W / result.power_plane_W;
  CHECK(error < 1e-3);
  CHECK(std::abs(result.intercept_factor - share) < rounding + 5.0 * error);
}

/// A small mirror at the origin that faces its receiver at 1 m, with Gaussian errors.
dish::Dish small_mirror(double sigma_rad, double sun_rad) {
  dish::Dish dish = light_scenes::oblique_facet(dish::Disc{1e-6 * 2}, dish::Flat{}, 0.0, 1.0);
  dish.facet_types[0].specularity_error_rad = sigma_rad;
  dish.sun.half_angle_rad = sun_rad;
  return dish;
}

Vec2 chief_of(const dish::Dish& dish, const Vec2& tracking) {
  const auto scene = optics::make_scene(dish, {.tracking_error_rad = tracking});
  REQUIRE(scene.ok());
  const auto& facet = scene.value().facets[0];
  const auto path =
      optics::follow(scene.value(), facet, optics::facet_point(scene.value(), facet, {0, 0}),
                     scene.value().sun, {}, {});
  REQUIRE(path.end == optics::End::landed);
  return path.board;
}

}  // namespace

TEST_CASE("encircled power of a perfect paraboloid") {
  for (const auto& row : references::k_paraboloid_encircled) {
    CAPTURE(row.rim_angle_deg);
    CAPTURE(row.radius_mm);
    const dish::Dish dish = light_scenes::whole_paraboloid(row.rim_angle_deg, 1.0);
    check_share(dish, 1e-3 * row.radius_mm, row.share, 3.5e-5);
  }
  for (const auto& [rim, rms_mm] : references::k_paraboloid_rms_mm) {
    const auto result = traced(light_scenes::whole_paraboloid(rim, 0.02), {.rays = k_rays});
    CHECK(1e3 * glm::length(result.rms_m) == doctest::Approx(rms_mm).epsilon(1e-3));
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
  for (const auto& row : references::k_focus) {
    dish::Dish dish = light_scenes::whole_paraboloid(row.rim_angle_deg, 0.003);
    CHECK(traced(dish, {.rays = k_rays}).mean_concentration ==
          doctest::Approx(row.peak).epsilon(0.003));
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
  const dish::Dish dish = small_mirror(0.002, 0.0);
  for (const auto& [ratio, share] : references::k_gaussian_disc) {
    check_share(dish, 0.002 * ratio, share, 1e-6);
  }
  for (const auto& [ratio, share] : references::k_gaussian_square) {
    dish::Dish square = dish;
    square.receiver.shape = dish::RectangleReceiver{0.004 * ratio, 0.004 * ratio};
    CHECK(std::abs(traced(square, {.rays = k_rays}).intercept_factor - share) < 7e-4);
  }
  for (const auto& [offset, ratio, share] : references::k_gaussian_offset) {
    dish::Dish moved = dish;
    moved.receiver.centre_m.y += 0.002 * offset;
    check_share(moved, 0.002 * ratio, share, 1e-6);
  }
}

TEST_CASE("an even sun blurred by a Gaussian") {
  for (const auto& row : references::k_blurred_disc) {
    CAPTURE(row.sigma_over_a);
    CAPTURE(row.radius_over_a);
    const dish::Dish dish = small_mirror(0.00465 * row.sigma_over_a, 0.00465);
    check_share(dish, 0.00465 * row.radius_over_a, row.share, 2e-5);
  }
}

// Source: Bendt & Rabl, SERI/TR-631-336 (1980); Stine & Geyer ch. 8. A tilt e turns the ray by 2 e
// in the plane of incidence and by 2 e cos i across it; specularity counts once; variances add.
// Tolerance 0.3 %: tangent against angle at 5 mrad, and 1.3e5 rays.
TEST_CASE("slope errors count twice, specularity once, and across the incidence less") {
  for (const double incidence : {0.0, 15.0, 22.5, 30.0, 45.0}) {
    dish::Dish dish = light_scenes::oblique_facet(dish::Disc{2e-6}, dish::Flat{}, incidence, 1.0);
    dish.sun.half_angle_rad = 0.0;
    dish.facet_types[0].slope_error_rad = 0.001;
    const auto slope = traced(dish, {.rays = k_rays});
    const double cosine = std::cos(base::rad_from_deg(incidence));
    CHECK(slope.rms_m.x == doctest::Approx(0.002).epsilon(0.003));
    CHECK(slope.rms_m.y == doctest::Approx(0.002 * cosine).epsilon(0.003));
  }
  // Slope 2, specularity 1 mrad and the sun's 2.325: 4^2 + 1 + 2.325^2 = 4.7338^2.
  dish::Dish dish = small_mirror(0.001, 0.00465);
  dish.facet_types[0].slope_error_rad = 0.002;
  CHECK(traced(dish, {.rays = k_rays}).rms_m.x ==
        doctest::Approx(std::sqrt(16.0 + 1.0 + 2.325 * 2.325) * 1e-3).epsilon(0.003));
}

TEST_CASE("a flat round facet lends the target no more than one sun") {
  for (const auto& [radius_mm, offset_mm, suns] : references::k_flat_disc) {
    dish::Dish dish =
        light_scenes::oblique_facet(dish::Disc{2e-3 * radius_mm}, dish::Flat{}, 0.0, 1.0);
    dish.receiver.centre_m.y = 1e-3 * offset_mm;
    // So small that the flux hardly bends within it, so large that enough rays land.
    light_scenes::set_receiver_radius(dish, radius_mm > 10.0 ? 5e-4 : 1e-4);
    const auto result = traced(dish, {.rays = 1 << 20});
    const double noise = 4.0 * result.standard_error_W / result.power_receiver_W;
    CHECK(std::abs(result.mean_concentration / suns - 1.0) < 0.004 + noise);
  }
}

TEST_CASE("a flat square facet sends its light into its own square and a rim about it") {
  dish::Dish dish = light_scenes::oblique_facet(dish::Rectangle{0.1, 0.1}, dish::Flat{}, 0.0, 1.0);
  dish.receiver.shape = dish::RectangleReceiver{0.1, 0.1};
  CHECK(std::abs(traced(dish, {.rays = k_rays}).intercept_factor -
                 references::k_flat_square_share) < 4e-4);
}

TEST_CASE("a spherical facet off axis") {
  for (const auto& [incidence, tangential_mm, sagittal_mm] : references::k_sphere_off_axis) {
    dish::Dish dish = light_scenes::oblique_facet(dish::Rectangle{0.1, 0.1}, dish::Spherical{2.0},
                                                  incidence, 1.0);
    dish.sun.half_angle_rad = 0.0;
    const auto result = traced(dish, {.rays = k_rays});
    CHECK(1e3 * result.rms_m.x == doctest::Approx(tangential_mm).epsilon(0.01));
    CHECK(1e3 * result.rms_m.y == doctest::Approx(sagittal_mm).epsilon(0.01));
  }
}

// Source: Coddington, tangential focus (R/2) cos i, sagittal R/(2 cos i); Born & Wolf 4.6.
// What is left at each focus is coma, of the order w^2/p: under 3 % of the other direction's blur
// for a facet of 10 mm.
TEST_CASE("astigmatic foci of a spherical facet stand where Coddington puts them") {
  const double cosine = std::cos(base::rad_from_deg(30.0));
  for (const bool is_tangential : {true, false}) {
    const double distance = is_tangential ? cosine : 1.0 / cosine;
    dish::Dish dish = light_scenes::oblique_facet(dish::Rectangle{0.01, 0.01}, dish::Spherical{2.0},
                                                  30.0, distance);
    dish.sun.half_angle_rad = 0.0;
    const auto result = traced(dish, {.rays = 65536});
    const double sharp = is_tangential ? result.rms_m.x : result.rms_m.y;
    const double blurred = is_tangential ? result.rms_m.y : result.rms_m.x;
    CHECK(sharp < 0.03 * blurred);
  }
}

TEST_CASE("tracking error moves the image of each zone of a paraboloid") {
  for (const auto& [phi_deg, in_plane_mm, across_mm] : references::k_tracking_shift) {
    const double phi = base::rad_from_deg(phi_deg);
    const double p = 2.0 / (1.0 + std::cos(phi));
    const Vec3 at{p * std::sin(phi), 0.0, 1.0 - p * std::cos(phi)};
    dish::Dish dish = light_scenes::one_facet(dish::Disc{1e-3}, dish::Flat{}, at,
                                              base::unit({-at.x / 2.0, 0.0, 1.0}));
    dish.receiver.centre_m = {0.0, 0.0, 1.0};
    const Vec2 in_plane = chief_of(dish, {0.001, 0.0}) - chief_of(dish, {-0.001, 0.0});
    const Vec2 across = chief_of(dish, {0.0, 0.001}) - chief_of(dish, {0.0, -0.001});
    CHECK(500.0 * glm::length(in_plane) == doctest::Approx(in_plane_mm).epsilon(1e-5));
    CHECK(500.0 * glm::length(across) == doctest::Approx(across_mm).epsilon(1e-5));
  }
}

TEST_CASE("facets on a flat frame: tilt, distance and the spacing without blocking") {
  for (const auto& [r, tilt_deg, distance] : references::k_flat_frame) {
    dish::Dish dish;
    dish.receiver.centre_m = {0.0, 0.0, 1.5};
    dish.facets.push_back({.id = {"A1"}, .centre_m = {r, 0.0, 0.0}});
    const auto pose = optics::nominal_pose(dish, dish.facets[0]);
    REQUIRE(pose.ok());
    CHECK(std::abs(base::deg_from_rad(std::acos(pose.value().normal.z)) - tilt_deg) < 1e-6);
    CHECK(glm::distance(dish.receiver.centre_m, dish.facets[0].centre_m) ==
          doctest::Approx(distance).epsilon(1e-6));
  }
  const auto blocked = [](double inner, double outer) {
    dish::Dish dish =
        light_scenes::one_facet(dish::Rectangle{0.1, 0.1}, dish::Flat{}, {0, 0, 0}, {0, 0, 1});
    dish.sun.half_angle_rad = 0.0;
    dish.receiver.centre_m = {0.0, 0.0, 1.5};
    dish.facets.assign(2, dish.facets[0]);
    for (std::size_t k = 0; k < 2; ++k) {
      dish.facets[k].normal.reset();
      dish.facets[k].centre_m = {k == 0 ? inner : outer, 0.0, 0.0};
    }
    return traced(dish, {.rays = 65536}).ledger.blocking_W;
  };
  const auto& centres = references::k_unblocked_centres;
  for (std::size_t k = 0; k + 1 < centres.size(); ++k) {
    CHECK(blocked(centres[k], centres[k + 1] + 2e-6) == 0.0);
    CHECK(blocked(centres[k], centres[k + 1] - 5e-5) > 0.0);
  }
}

// Source: plane through three screws at (a, 0), (-a/2, +-a sqrt(3)/2): slope (2 h1 - h2 - h3)/3a
// and (h2 - h3)/(sqrt(3) a); a mirror's tilt turns its light twice, 2 p times the slope at the
// target. Tolerance 1e-4: the tangent of twice the angle.
TEST_CASE("screws move the spot by twice the slope") {
  dish::Dish dish =
      light_scenes::one_facet(dish::Disc{0.2}, dish::Spherical{4.0}, {0, 0, 0}, {0, 0, 1});
  dish.receiver.centre_m = {0.0, 0.0, 2.0};
  const double a = 0.1;
  const double s = a * std::sqrt(0.75);
  dish.mounts.push_back({.name = {"three"},
                         .face_offset_m = 0.0,
                         .adjusters = {{.label = "1", .x_m = a},
                                       {.label = "2", .x_m = -0.5 * a, .y_m = s},
                                       {.label = "3", .x_m = -0.5 * a, .y_m = -s}}});
  dish.facets[0].mount = {"three"};
  const auto shift = [&](const std::array<double, 3>& heights_mm) {
    for (std::size_t k = 0; k < 3; ++k) dish.facets[0].displacement_m[k] = 1e-3 * heights_mm[k];
    return 1e3 * chief_of(dish, {0.0, 0.0});
  };
  // The board's right is the dish's -x: it faces down to the facets.
  const Vec2 one = shift({0.25, 0.0, 0.0});
  CHECK(one.x == doctest::Approx(6.6667).epsilon(1e-4));
  CHECK(std::abs(one.y) < 1e-9);
  const Vec2 two = shift({0.1, 0.3, -0.2});
  CHECK(two.x == doctest::Approx(4.0 * 0.333333).epsilon(1e-4));
  CHECK(two.y == doctest::Approx(-4.0 * 2.886751).epsilon(1e-4));
}

TEST_CASE("a whole dish of 48 flat facets") {
  const dish::Dish dish = light_scenes::faceted_dish(true, 0.1);
  const auto result = traced(dish, {.rays = 1 << 20});
  CHECK(result.power_reflected_W / 1000.0 ==
        doctest::Approx(references::k_faceted_area_m2).epsilon(1e-5));
  CHECK(1e3 * result.rms_m.x == doctest::Approx(references::k_faceted_flat_sigma_mm).epsilon(2e-3));
  CHECK(1e3 * result.rms_m.y == doctest::Approx(references::k_faceted_flat_sigma_mm).epsilon(2e-3));
  for (const auto& [radius_mm, share] : references::k_faceted_flat) {
    CHECK(std::abs(share_within(dish, 1e-3 * radius_mm, 1 << 18) - share) < 1e-3);
  }
  dish::Dish middle = dish;
  light_scenes::set_receiver_radius(middle, 0.008);
  CHECK(traced(middle, {.rays = 1 << 22}).mean_concentration ==
        doctest::Approx(references::k_faceted_flat_centre).epsilon(0.003));
}

TEST_CASE("a whole dish of 48 spherical facets") {
  const dish::Dish dish = light_scenes::faceted_dish(false, 0.02);
  const auto result = traced(dish, {.rays = 1 << 19});
  CHECK(1e3 * result.rms_m.x ==
        doctest::Approx(references::k_faceted_sphere_sigma_mm).epsilon(2e-3));
  for (const auto& [radius_mm, share] : references::k_faceted_sphere) {
    CHECK(std::abs(share_within(dish, 1e-3 * radius_mm, 1 << 18) - share) < 1e-3);
  }
}
