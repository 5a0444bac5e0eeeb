// The trace of facets and of whole dishes against published closed forms and benchmarks. Sources
// and raw numbers stand in references/optics/.
#include <cmath>

#include <fmt/format.h>

#include "base/units.h"
#include "light_scenes.h"
#include "optics/canting.h"
#include "optics/path.h"
#include "optics/scene.h"
#include "references/optics/concentrators.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using base::Vec2;
using base::Vec3;
using light_scenes::share_within;
using light_scenes::traced;
using support::check_outside;
using support::OutsideCheck;

constexpr std::uint64_t k_facet_rays = 131072;

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

TEST_CASE("a flat round facet lends the target no more than one sun") {
  // Discs so small that the flux hardly bends within them, so large that enough rays land.
  constexpr double disc_mm[6] = {40.0, 1.0, 2.0, 1.5, 0.25, 0.5};
  constexpr double pins[6] = {0.999995940626, 0.948607979273, 0.490099221462,
                              0.416326548139, 0.406631494449, 0.389981026517};
  for (std::size_t k = 0; k < references::k_flat_disc.size(); ++k) {
    const auto& [radius_mm, offset_mm, suns] = references::k_flat_disc[k];
    dish::Dish dish =
        light_scenes::oblique_facet(dish::Disc{2e-3 * radius_mm}, dish::Flat{}, 0.0, 1.0);
    dish.receiver.centre_m.y = 1e-3 * offset_mm;
    light_scenes::set_receiver_radius(dish, 1e-3 * disc_mm[k]);
    const auto result = traced(dish, {.rays = radius_mm > 10.0 ? 1U << 23 : 1U << 21});
    const double error = result.standard_error_W / result.power_receiver_W;
    CHECK(error < 0.025);
    check_outside({.what = fmt::format("flat round facet of {} mm, suns {} mm from the middle",
                                       radius_mm, offset_mm),
                   .source = references::k_flat_disc_source,
                   .outside = suns,
                   .ours = result.mean_concentration,
                   .tolerance = (0.008 + 4.0 * error) * suns,
                   .why = "the flux bends within the small disc; four standard errors",
                   .pin = pins[k]});
  }
}

TEST_CASE("a flat square facet sends its light into its own square and a rim about it") {
  dish::Dish dish = light_scenes::oblique_facet(dish::Rectangle{0.1, 0.1}, dish::Flat{}, 0.0, 1.0);
  dish.receiver.shape = dish::RectangleReceiver{0.1, 0.1};
  constexpr double pin = 0.960868835449;
  check_outside({.what = "flat square facet, share within its own square",
                 .source = references::k_flat_square_source,
                 .outside = references::k_flat_square_share,
                 .ours = traced(dish, {.rays = k_facet_rays}).intercept_factor,
                 .tolerance = 4e-4,
                 .why = "counting, 1.3e5 rays",
                 .pin = pin});
}

TEST_CASE("a spherical facet off axis") {
  constexpr double pins[4][2] = {{0.458566415592, 0.43688831922},
                                 {1.00365075312, 0.982705123516},
                                 {2.21701434766, 2.19811090848},
                                 {3.8862718981, 3.87024644176}};
  for (std::size_t k = 0; k < references::k_sphere_off_axis.size(); ++k) {
    const auto& [incidence, tangential_mm, sagittal_mm] = references::k_sphere_off_axis[k];
    dish::Dish dish = light_scenes::oblique_facet(dish::Rectangle{0.1, 0.1}, dish::Spherical{2.0},
                                                  incidence, 1.0);
    dish.sun.half_angle_rad = 0.0;
    const auto result = traced(dish, {.rays = k_facet_rays});
    OutsideCheck check{.source = references::k_sphere_off_axis_source,
                       .why = "1 %: the square grid of rays of the source"};
    check.what = fmt::format("spherical facet at {} deg, tangential rms, mm", incidence);
    check.outside = tangential_mm;
    check.ours = 1e3 * result.rms_m.x;
    check.tolerance = 0.01 * tangential_mm;
    check.pin = pins[k][0];
    check_outside(check);
    check.what = fmt::format("spherical facet at {} deg, sagittal rms, mm", incidence);
    check.outside = sagittal_mm;
    check.ours = 1e3 * result.rms_m.y;
    check.tolerance = 0.01 * sagittal_mm;
    check.pin = pins[k][1];
    check_outside(check);
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
  constexpr double pins[3][2] = {{1.2376051321, 1.07179712699},
                                 {1.65685645864, 1.17157326578},
                                 {2.66667555559, 1.33333377778}};
  for (std::size_t k = 0; k < references::k_tracking_shift.size(); ++k) {
    const auto& [phi_deg, in_plane_mm, across_mm] = references::k_tracking_shift[k];
    const double phi = base::rad_from_deg(phi_deg);
    const double p = 2.0 / (1.0 + std::cos(phi));
    const Vec3 at{p * std::sin(phi), 0.0, 1.0 - p * std::cos(phi)};
    dish::Dish dish = light_scenes::one_facet(dish::Disc{1e-3}, dish::Flat{}, at,
                                              base::unit({-at.x / 2.0, 0.0, 1.0}));
    dish.receiver.centre_m = {0.0, 0.0, 1.0};
    const Vec2 in_plane = chief_of(dish, {0.001, 0.0}) - chief_of(dish, {-0.001, 0.0});
    const Vec2 across = chief_of(dish, {0.0, 0.001}) - chief_of(dish, {0.0, -0.001});
    OutsideCheck check{.source = references::k_tracking_shift_source,
                       .why = "second order of 1 mrad cancels in the mean"};
    check.what = fmt::format("tracking error, zone at {} deg, in its plane, mm", phi_deg);
    check.outside = in_plane_mm;
    check.ours = 500.0 * glm::length(in_plane);
    check.tolerance = 1e-5 * in_plane_mm;
    check.pin = pins[k][0];
    check_outside(check);
    check.what = fmt::format("tracking error, zone at {} deg, across, mm", phi_deg);
    check.outside = across_mm;
    check.ours = 500.0 * glm::length(across);
    check.tolerance = 1e-5 * across_mm;
    check.pin = pins[k][1];
    check_outside(check);
  }
}

TEST_CASE("facets on a flat frame: tilt, distance and the spacing without blocking") {
  constexpr double pins[4] = {5.65496623701, 10.9007047432, 15.481878266, 19.329904127};
  for (std::size_t k = 0; k < references::k_flat_frame.size(); ++k) {
    const auto& [r, tilt_deg, distance] = references::k_flat_frame[k];
    dish::Dish dish;
    dish.receiver.centre_m = {0.0, 0.0, 1.5};
    dish.facets.push_back({.id = {"A1"}, .centre_m = {r, 0.0, 0.0}});
    const auto pose = optics::nominal_pose(dish, dish.facets[0]);
    REQUIRE(pose.ok());
    check_outside({.what = fmt::format("tilt on a flat frame, r {} m, deg", r),
                   .source = references::k_flat_frame_source,
                   .outside = tilt_deg,
                   .ours = base::deg_from_rad(std::acos(pose.value().normal.z)),
                   .tolerance = 5e-7,
                   .why = support::k_half_digit,
                   .pin = pins[k]});
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
  constexpr double pins[3] = {0.474214375222, 29.5273486558, 45.6970579181};
  constexpr double share_pins[7] = {0.0301503291908, 0.121171690236, 0.272223372897, 0.484751108644,
                                    0.752018251696,  0.934908208491, 0.995357669624};
  const dish::Dish dish = light_scenes::faceted_dish(true, 0.1);
  const auto result = traced(dish, {.rays = 1 << 20});
  check_outside({.what = "48 flat facets, area that collects, m2",
                 .source = references::k_faceted_source,
                 .outside = references::k_faceted_area_m2,
                 .ours = result.power_reflected_W / 1000.0,
                 .tolerance = 1e-5 * references::k_faceted_area_m2,
                 .why = "rounding of the source",
                 .pin = pins[0]});
  const double sigma_mm = references::k_faceted_flat_sigma_mm;
  check_outside({.what = "48 flat facets, sigma, mm",
                 .source = references::k_faceted_source,
                 .outside = sigma_mm,
                 .ours = 1e3 * result.rms_m.x,
                 .tolerance = 2e-3 * sigma_mm,
                 .why = "quadrature of the source",
                 .pin = pins[1]});
  CHECK(1e3 * result.rms_m.y == doctest::Approx(sigma_mm).epsilon(2e-3));
  for (std::size_t k = 0; k < references::k_faceted_flat.size(); ++k) {
    const auto& [radius_mm, share] = references::k_faceted_flat[k];
    check_outside({.what = fmt::format("48 flat facets, share within {} mm", radius_mm),
                   .source = references::k_faceted_source,
                   .outside = share,
                   .ours = share_within(dish, 1e-3 * radius_mm, 1 << 18),
                   .tolerance = 1e-3,
                   .why = "quadrature of the source",
                   .pin = share_pins[k]});
  }
  dish::Dish middle = dish;
  light_scenes::set_receiver_radius(middle, 0.008);
  check_outside({.what = "48 flat facets, middle, suns",
                 .source = references::k_faceted_source,
                 .outside = references::k_faceted_flat_centre,
                 .ours = traced(middle, {.rays = 1 << 22}).mean_concentration,
                 .tolerance = 0.003 * references::k_faceted_flat_centre,
                 .why = "counting in a disc of 8 mm",
                 .pin = pins[2]});
}

TEST_CASE("a whole dish of 48 spherical facets") {
  constexpr double sigma_pin = 2.48674473618;
  constexpr double share_pins[2] = {0.262045804146, 0.946577275396};
  const dish::Dish dish = light_scenes::faceted_dish(false, 0.02);
  check_outside({.what = "48 spherical facets, sigma, mm",
                 .source = references::k_faceted_source,
                 .outside = references::k_faceted_sphere_sigma_mm,
                 .ours = 1e3 * traced(dish, {.rays = 1 << 19}).rms_m.x,
                 .tolerance = 2e-3 * references::k_faceted_sphere_sigma_mm,
                 .why = "quadrature of the source",
                 .pin = sigma_pin});
  for (std::size_t k = 0; k < references::k_faceted_sphere.size(); ++k) {
    const auto& [radius_mm, share] = references::k_faceted_sphere[k];
    check_outside({.what = fmt::format("48 spherical facets, share within {} mm", radius_mm),
                   .source = references::k_faceted_source,
                   .outside = share,
                   .ours = share_within(dish, 1e-3 * radius_mm, 1 << 18),
                   .tolerance = 1e-3,
                   .why = "quadrature of the source",
                   .pin = share_pins[k]});
  }
}
