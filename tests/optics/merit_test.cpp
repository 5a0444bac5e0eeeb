// Figures of merit against textbooks' limits and the trace itself.
#include "optics/merit.h"

#include <cmath>

#include "base/units.h"
#include "light_scenes.h"
#include "optics/outline_points.h"
#include "optics/quadric.h"
#include "references/optics/concentrators.h"
#include "references/optics/limits.h"

#include <doctest/doctest.h>

namespace {

double half_angle(bool in_degrees, double value) {
  return in_degrees ? base::rad_from_deg(value) : base::rad_from_mrad(value);
}

}  // namespace

TEST_CASE("limits of concentration") {
  for (const auto& row : references::k_limits) {
    CAPTURE(row.half_angle);
    const double t = half_angle(row.in_degrees, row.half_angle);
    CHECK(std::abs(optics::limit_concentration_3d(t) - row.dish) <= row.dish_rounding);
    if (row.trough > 0.0) {
      CHECK(std::abs(optics::limit_concentration_2d(t) - row.trough) <= row.trough_rounding);
    }
  }
}

TEST_CASE("receivers of paraboloids, by rim angle") {
  const double t = base::rad_from_mrad(4.65);
  for (const auto& row : references::k_by_rim) {
    CAPTURE(row.rim_deg);
    const double phi = base::rad_from_deg(row.rim_deg);
    CHECK(std::abs(optics::flat_receiver_concentration(phi, t) - row.flat) <= 5e-3);
    CHECK(std::abs(optics::flat_receiver_diameter_ratio(phi, t) - row.diameter_ratio) <= 5e-7);
    CHECK(std::abs(optics::ball_receiver_concentration(phi, t) - row.ball) <= 5e-3);
    CHECK(std::abs(optics::focus_concentration(phi, t) - row.focus) <= 5e-3);
    CHECK(std::abs(optics::flat_receiver_concentration(phi, 0.010) - row.flat_10_mrad) <= 5e-3);
  }
  CHECK(optics::flat_receiver_concentration(0.5 * base::k_pi, t) == 0.0);
}

TEST_CASE("the flat receiver does most at half a right angle less half the sun") {
  for (const auto& [in_degrees, value, greatest] : references::k_greatest_flat) {
    const double t = half_angle(in_degrees != 0.0, value);
    const double best = optics::best_flat_receiver_rim_rad(t);
    CHECK(std::abs(optics::flat_receiver_concentration(best, t) - greatest) <= 5e-3);
    CHECK(optics::flat_receiver_concentration(best + 0.01, t) < greatest);
    CHECK(optics::flat_receiver_concentration(best - 0.01, t) < greatest);
  }
  CHECK(std::abs(base::deg_from_rad(optics::best_flat_receiver_rim_rad(0.00465)) -
                 references::k_greatest_flat_rim_deg) <= 5e-5);
}

TEST_CASE("a second stage and the ideal cone") {
  for (const auto& [rim, concentration] : references::k_two_stage) {
    CHECK(std::abs(optics::two_stage_concentration(base::rad_from_deg(rim), 0.00465) -
                   concentration) <= 0.05);
  }
  for (const auto& [acceptance, concentration, entrance, length] : references::k_ideal_cones) {
    const auto cone = optics::ideal_cone(base::rad_from_deg(acceptance), 1.0);
    CHECK(std::abs(cone.concentration - concentration) <= 5e-7);
    CHECK(std::abs(cone.entrance_radius_m - entrance) <= 5e-7);
    CHECK(std::abs(cone.length_m - length) <= 5e-7);
    CHECK(cone.focal_length_m == doctest::Approx(1.0 + 1.0 / entrance).epsilon(1e-6));
  }
}

TEST_CASE("points over an outline give the area of a paraboloid's surface") {
  for (const auto& [f, diameter, area] : references::k_paraboloid_areas) {
    const auto edge = optics::ring_edge(0.5 * diameter, 0.0);
    const auto surface = optics::conic_quadric(0.5 / f, -1.0);
    double sum = 0.0;
    for (const auto& at : optics::outline_points(edge)) {
      const base::Vec3 point{at.uv.x, at.uv.y, optics::sag(surface, at.uv.x, at.uv.y)};
      sum += at.share * edge.area_m2 / optics::normal_at(surface, point).z;
    }
    CHECK(sum == doctest::Approx(area).epsilon(1e-4));
    if (diameter <= 2.0 * f) CHECK(sum == doctest::Approx(area).epsilon(2e-6));
  }
}

// Sources: second moments of a hexagon across flats a: 5 a^4 / (144 / sqrt 3) over its area, that
// is 5 a^2 / 72; of a rectangle w^2 / 12; of a disc d^2 / 16; of a ring (a^2 + b^2) / 4. Any table
// of plane figures. Exact for the rule, so 1e-13.
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
  CHECK(hexagon.x == doctest::Approx(5.0 * 0.09 / 72.0).epsilon(1e-13));
  CHECK(hexagon.y == doctest::Approx(5.0 * 0.09 / 72.0).epsilon(1e-13));
  const auto rectangle = moment(optics::make_edge(dish::Rectangle{0.3, 0.2}, "").value());
  CHECK(rectangle.x == doctest::Approx(0.09 / 12.0).epsilon(1e-13));
  CHECK(rectangle.y == doctest::Approx(0.04 / 12.0).epsilon(1e-13));
  CHECK(moment(optics::ring_edge(0.2, 0.0)).x == doctest::Approx(0.01).epsilon(1e-13));
  CHECK(moment(optics::ring_edge(0.2, 0.1)).y == doctest::Approx(0.05 / 4.0).epsilon(1e-13));
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
  // 2 f tan t, 9.30007 mm for each metre.
  CHECK(1e3 * merit.value().sun_image_m == doctest::Approx(9.30007).epsilon(1e-6));
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
