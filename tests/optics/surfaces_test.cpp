// Surfaces and outlines: laws of the quadric form, then published curvatures and telescopes.
#include <cmath>

#include <fmt/format.h>

#include "base/sobol.h"
#include "base/units.h"
#include "optics/aperture.h"
#include "optics/facet_surface.h"
#include "optics/outline.h"
#include "optics/quadric.h"
#include "optics/secondary_mirror.h"
#include "references/optics/concentrators.h"
#include "support/figures.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using base::Vec2;
using base::Vec3;
using optics::Quadric;

const Quadric k_surfaces[] = {optics::flat_quadric(),
                              optics::conic_quadric(0.4, 0.0),
                              optics::conic_quadric(-0.4, 0.0),
                              optics::conic_quadric(0.25, -1.0),
                              optics::conic_quadric(-1.5, -3.0),
                              optics::conic_quadric(1.5, -0.3),
                              optics::off_axis_paraboloid_quadric(1.0, 0.7, {0.6, 0.8})};

}  // namespace

TEST_CASE("sag lies on the surface and the normal is square to it") {
  for (const Quadric& s : k_surfaces) {
    for (const Vec2 at : {Vec2(0.0, 0.0), Vec2(0.2, -0.1), Vec2(-0.15, 0.3)}) {
      const Vec3 x{at.x, at.y, optics::sag(s, at.x, at.y)};
      CHECK(std::abs(glm::dot(x, s.times(x)) - 2.0 * x.z) < 1e-15);
      const double h = 1e-5;
      const double du = (optics::sag(s, at.x + h, at.y) - optics::sag(s, at.x - h, at.y)) / (2 * h);
      const double dv = (optics::sag(s, at.x, at.y + h) - optics::sag(s, at.x, at.y - h)) / (2 * h);
      const Vec3 normal = optics::normal_at(s, x);
      CHECK(glm::length(normal - base::unit({-du, -dv, 1.0})) < 1e-9);
    }
  }
}

TEST_CASE("a ray meets the surface where it was aimed") {
  for (const Quadric& s : k_surfaces) {
    base::Sobol points(3, 0, 0, 0);
    for (int n = 0; n < 64; ++n) {
      double x[5];
      points.next(x, 5);
      const Vec2 at{0.4 * (x[0] - 0.5), 0.4 * (x[1] - 0.5)};
      const Vec3 target{at.x, at.y, optics::sag(s, at.x, at.y)};
      const Vec3 from{2.0 * (x[2] - 0.5), 2.0 * (x[3] - 0.5), 0.8 + x[4]};
      const double distance = glm::distance(from, target);
      const auto hits = optics::intersect(s, from, (target - from) / distance);
      double nearest = HUGE_VAL;
      for (int k = 0; k < hits.count; ++k) {
        nearest =
            std::min(nearest, std::abs(hits.distance[static_cast<std::size_t>(k)] - distance));
      }
      CHECK(nearest < 1e-13);
      if (hits.count == 2) CHECK(hits.distance[0] <= hits.distance[1]);
    }
  }
}

TEST_CASE("hits keep their digits as a surface becomes flat") {
  const Vec3 from{0.1, 0.2, 1.0};
  const Vec3 direction = base::unit({0.1, -0.05, -1.0});
  const double flat = optics::intersect(optics::flat_quadric(), from, direction).distance[0];
  for (const double curvature : {1e-6, 1e-9, 1e-12, 1e-15}) {
    const auto hits = optics::intersect(optics::conic_quadric(curvature, 0.0), from, direction);
    REQUIRE(hits.count >= 1);
    CHECK(std::abs(hits.distance[0] - flat) < curvature);
    CHECK(std::abs(optics::sag(optics::conic_quadric(curvature, 0.0), 0.3, 0.4) /
                       (0.125 * curvature) -
                   1.0) < 1e-12);
  }
}

TEST_CASE("only the sheet of the origin is mirror") {
  // A ray along the axis meets both poles of a sphere; the far one is not mirror.
  const auto sphere = optics::intersect(optics::conic_quadric(0.5, 0.0), {0, 0, 5}, {0, 0, -1});
  REQUIRE(sphere.count == 1);
  CHECK(sphere.distance[0] == doctest::Approx(5.0));
  const auto hyperboloid =
      optics::intersect(optics::conic_quadric(1.0, -4.0), {0, 0, 5}, {0, 0, -1});
  REQUIRE(hyperboloid.count == 1);
  CHECK(hyperboloid.distance[0] == doctest::Approx(5.0));
}

TEST_CASE("an off-axis paraboloid has the parent's curvatures") {
  constexpr double pins[4][2] = {{2.03007487547, 2.00997512422},
                                 {2.19039986361, 2.06155281281},
                                 {2.49871647051, 2.15406592285},
                                 {2.79508497188, 2.2360679775}};
  for (std::size_t n = 0; n < references::k_paraboloid_radii.size(); ++n) {
    const auto& [r, along, across] = references::k_paraboloid_radii[n];
    const auto s = optics::off_axis_paraboloid_quadric(1.0, r, {0.0, 1.0});
    const auto k = optics::curvatures_at(s, {0.0, 0.0, 0.0});
    support::OutsideCheck check{.source = references::k_paraboloid_radii_source,
                                .tolerance = 6e-10,
                                .why = support::k_half_digit};
    check.what = fmt::format("radius along the meridian of a paraboloid, f 1, r {}", r);
    check.outside = along;
    check.ours = 1.0 / k.lesser;
    check.pin = pins[n][0];
    support::check_outside(check);
    check.what = fmt::format("radius across the meridian of a paraboloid, f 1, r {}", r);
    check.outside = across;
    check.ours = 1.0 / k.greater;
    check.pin = pins[n][1];
    support::check_outside(check);
    CHECK(std::abs(k.direction_of_greater.x) == doctest::Approx(1.0));
  }
}

TEST_CASE("an off-axis paraboloid is the parent itself, seen from the facet") {
  const double f = 1.3;
  dish::Facet facet{.id = {"A1"}, .centre_m = {0.5, -0.4, 0.41 / (4.0 * f)}};
  const Vec3 normal = base::unit({-facet.centre_m.x / (2 * f), -facet.centre_m.y / (2 * f), 1.0});
  const auto s = optics::facet_quadric(dish::OffAxisParaboloid{.focal_length_m = f}, facet, normal);
  const base::Pose pose{facet.centre_m, base::frame_of_normal(normal)};
  for (const Vec2 at : {Vec2(0.1, 0.0), Vec2(-0.1, 0.12), Vec2(0.05, -0.2)}) {
    const Vec3 p = base::point_to_outer(pose, {at.x, at.y, optics::sag(s, at.x, at.y)});
    CHECK(std::abs(p.z - (p.x * p.x + p.y * p.y) / (4.0 * f)) < 1e-15);
  }
}

TEST_CASE("sag of a sphere") {
  constexpr double pin = 2.81348946537;
  support::check_outside({.what = "sag of a sphere, R 4 m, h 150 mm, mm",
                          .source = "circle, R - sqrt(R^2 - h^2); handbooks' w^2/8R is 2.8125",
                          .outside = 2.81349,
                          .ours = 1e3 * optics::sag(optics::conic_quadric(0.25, 0.0), 0.15, 0.0),
                          .tolerance = 5e-6,
                          .why = support::k_half_digit,
                          .pin = pin});
}

TEST_CASE("two-mirror telescopes: form of the secondary, edge ray and half angles") {
  constexpr double pins[4][6] = {
      {0.64, -2.77777777778, 0.147314578005, 0.776572890026, 33.398488468, 8.57830665764},
      {0.64, -0.36, 0.234718826406, 1.35599022005, 33.398488468, 8.57830665764},
      {0.525, -4, 0.154791154791, 0.446498771499, 45.2397298961, 15.8143254059},
      {0.525, -0.25, 0.275711159737, 0.87341356674, 45.2397298961, 15.8143254059}};
  for (std::size_t n = 0; n < references::k_two_mirrors.size(); ++n) {
    const auto& row = references::k_two_mirrors[n];
    dish::Secondary secondary{.vertex_m = {0.0, 0.0, row.separation}, .diameter_m = 0.7};
    if (row.is_gregory) {
      secondary.form = dish::EllipsoidSecondary{row.f1, -row.b};
    } else {
      secondary.form = dish::HyperboloidSecondary{row.f1, -row.b};
    }
    const auto made = optics::secondary_mirror(secondary);
    REQUIRE(made.ok());
    const auto& mirror = made.value();
    // The ray from the primary's edge toward its focus.
    const double edge = 0.5 * row.d1;
    const Vec3 from{edge, 0.0, edge * edge / (4.0 * row.f1)};
    const Vec3 direction = base::unit(Vec3(0.0, 0.0, row.f1) - from);
    const auto hit = optics::hit_mirror_side(mirror, from, direction);
    REQUIRE(hit.has_value());
    const Vec3 after = base::reflect(direction, hit->normal);
    const Vec3 to_focus = Vec3(0.0, 0.0, -row.b) - hit->point;
    CHECK(glm::length(base::unit(to_focus) - after) < 1e-13);

    struct Part {
      const char* name;
      double outside, ours, rounding;
    };
    const Part parts[] = {
        {"secondary's radius, m", row.r2, 1.0 / std::abs(mirror.surface.uu), 5e-7},
        {"secondary's conic constant", row.k2, mirror.surface.ww / mirror.surface.uu - 1.0, 5e-7},
        {"secondary's edge, m", row.edge_x, std::abs(hit->point.x), 6e-9},
        {"height of that edge, m", row.edge_z, hit->point.z, 6e-9},
        {"half angle before, deg", row.phi_deg, base::deg_from_rad(std::acos(direction.z)), 6e-7},
        {"half angle after, deg", row.phi2_deg, base::deg_from_rad(std::acos(-after.z)), 6e-7}};
    for (std::size_t k = 0; k < 6; ++k) {
      support::check_outside(
          {.what = fmt::format("{} of f {} m, {}", row.is_gregory ? "Gregory" : "Cassegrain",
                               row.f1, parts[k].name),
           .source = references::k_two_mirrors_source,
           .outside = parts[k].outside,
           .ours = parts[k].ours,
           .tolerance = parts[k].rounding,
           .why = support::k_half_digit,
           .pin = pins[n][k]});
    }
  }
}

TEST_CASE("a conic sends every ray from one focus to the other, wherever it stands") {
  for (const bool is_hyperboloid : {true, false}) {
    dish::Secondary secondary{
        .vertex_m = {0.02, -0.01, 1.5}, .tilt_rad = {0.03, -0.02}, .diameter_m = 0.3};
    if (is_hyperboloid) {
      secondary.form = dish::HyperboloidSecondary{1.9, 0.2};
    } else {
      secondary.form = dish::EllipsoidSecondary{1.2, 0.2};
    }
    const auto made = optics::secondary_mirror(secondary);
    REQUIRE(made.ok());
    for (const Vec3 from : {Vec3(0.3, 0.1, 0.0), Vec3(-0.4, 0.5, 0.1), Vec3(0.0, -0.6, 0.05)}) {
      const Vec3 direction = base::unit(*made.value().near_focus - from);
      const auto hit = optics::hit_mirror_side(made.value(), from, direction);
      REQUIRE(hit.has_value());
      const Vec3 after = base::reflect(direction, hit->normal);
      CHECK(glm::length(base::unit(*made.value().far_focus - hit->point) - after) < 1e-12);
    }
  }
}

TEST_CASE("outlines: area, inside and even samples agree") {
  const dish::Outline outlines[] = {
      dish::Hexagon{0.23}, dish::Rectangle{0.2, 0.3}, dish::Disc{0.25},
      dish::AnnularSector{0.3, 0.6, 0.5},
      dish::Polygon{{{0.1, 0.0}, {0.05, 0.12}, {-0.1, 0.08}, {-0.12, -0.05}, {0.0, -0.11}}}};
  const double areas[] = {0.23 * 0.23 * std::sqrt(0.75), 0.06, base::k_pi * 0.015625,
                          0.5 * 0.5 * 0.27, 0.0};
  for (std::size_t k = 0; k < 5; ++k) {
    const auto made = optics::make_edge(outlines[k], "outline");
    REQUIRE(made.ok());
    const optics::Edge& edge = made.value();
    if (areas[k] > 0.0) CHECK(edge.area_m2 == doctest::Approx(areas[k]).epsilon(1e-14));
    // Samples lie inside; a left half of the outline takes its share of them by area.
    base::Sobol points(5, 0, 0, 0);
    base::Sobol box(6, 0, 0, 0);
    const int count = 16384;
    int left = 0;
    int in_box = 0;
    int left_in_box = 0;
    for (int n = 0; n < count; ++n) {
      double x[4];
      points.next(x, 2);
      const Vec2 p = optics::sample(edge, x[0], x[1]);
      CHECK_MESSAGE(optics::is_inside(edge, p.x * (1.0 - 1e-12), p.y * (1.0 - 1e-12)), k);
      left += p.x + 0.3 * p.y < -0.02 ? 1 : 0;
      box.next(x, 2);
      const double side = 2.0 * edge.bounding_radius_m;
      const Vec2 q{side * (x[0] - 0.5), side * (x[1] - 0.5)};
      if (!optics::is_inside(edge, q.x, q.y)) continue;
      ++in_box;
      left_in_box += q.x + 0.3 * q.y < -0.02 ? 1 : 0;
    }
    const double side = 2.0 * edge.bounding_radius_m;
    CHECK(side * side * in_box / count == doctest::Approx(edge.area_m2).epsilon(0.004));
    CHECK(static_cast<double>(left) / count ==
          doctest::Approx(static_cast<double>(left_in_box) / in_box).epsilon(0.01));
  }
}

TEST_CASE("outlines without sense are named") {
  CHECK(!optics::make_edge(dish::Disc{0.0}, "x").ok());
  CHECK(!optics::make_edge(dish::Hexagon{0.0}, "x").ok());
  CHECK(!optics::make_edge(dish::Polygon{{{0, 0}, {1, 0}}}, "x").ok());
  CHECK(!optics::make_edge(dish::Polygon{{{0, 0}, {0, 1}, {1, 0}}}, "x").ok());  // clockwise
  CHECK(!optics::make_edge(dish::AnnularSector{0.6, 0.3, 0.5}, "x").ok());
  CHECK(optics::make_edge(dish::AnnularSector{0.6, 0.3, 0.5}, "x").problems()[0].place == "x");
}

TEST_CASE("the convex hull of a square with points inside is the square") {
  std::vector<optics::Corner> points;
  for (const base::Vec2& at :
       {base::Vec2(0, 0), base::Vec2(2, 0), base::Vec2(1, 1), base::Vec2(2, 2), base::Vec2(0, 2),
        base::Vec2(1, 0), base::Vec2(0.5, 1.5)}) {
    points.push_back({at, static_cast<std::uint32_t>(points.size())});
  }
  const auto hull = optics::hull_of(points);
  REQUIRE(hull.size() == 4);
  CHECK(hull[0].facet == 0);
  CHECK(hull[1].facet == 1);
  CHECK(hull[2].facet == 3);
  CHECK(hull[3].facet == 4);
  CHECK(optics::area_of(hull) == doctest::Approx(4.0));
  CHECK(optics::area_of(optics::hull_of({{{0, 0}, 0}, {{1, 1}, 1}, {{2, 2}, 2}})) ==
        doctest::Approx(0.0));
}
