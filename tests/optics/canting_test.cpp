// Canting: facets face so that the sun's chief ray reaches its aim, directly or off a secondary.
#include "optics/canting.h"

#include <doctest/doctest.h>

#include "optics/secondary_mirror.h"
#include "support/outside.h"

namespace {

using base::Vec3;

dish::Dish one_facet(const Vec3& centre) {
  dish::Dish dish;
  dish.focal_length_m = 1.5;
  dish.receiver.centre_m = {0.0, 0.0, 1.5};
  dish.facet_types.push_back({.name = {"tile"}});
  dish.facets.push_back({.id = {"A1"}, .type = {"tile"}, .centre_m = centre});
  return dish;
}

Vec3 normal_of(const dish::Dish& dish) {
  const auto pose = optics::nominal_pose(dish, dish.facets.front());
  REQUIRE(pose.ok());
  return pose.value().normal;
}

/// Distance by which the chief ray of the first facet misses its aim, off the secondary.
double chief_miss_m(const dish::Dish& dish) {
  const auto mirror = optics::secondary_mirror(*dish.secondary);
  REQUIRE(mirror.ok());
  const Vec3 centre = dish.facets.front().centre_m;
  const Vec3 leaving = base::reflect({0.0, 0.0, -1.0}, normal_of(dish));
  const auto hit = optics::hit_mirror_side(mirror.value(), centre, leaving);
  REQUIRE(hit.has_value());
  const Vec3 arriving = base::reflect(leaving, hit->normal);
  const Vec3 way = optics::aim_point(dish, dish.facets.front()) - hit->point;
  CHECK_MESSAGE(glm::dot(way, arriving) > 0.0, "the aim lies ahead of the ray");
  return glm::length(way - glm::dot(way, arriving) * arriving);
}

dish::Secondary hyperboloid() {
  return {.form = dish::HyperboloidSecondary{.near_focus_z_m = 2.0, .far_focus_z_m = 0.1},
          .vertex_m = {0.0, 0.0, 1.6},
          .diameter_m = 0.5};
}

}  // namespace

TEST_CASE("a prime-focus facet bisects the sun and its aim") {
  struct Row {
    Vec3 centre, normal;
  };
  const Row rows[] = {
      {{0.6, 0.0, 0.0}, {-0.18910752, 0.0, 0.98195639}},
      {{0.6, 0.45, 0.09}, {-0.19359968, -0.14519976, 0.97027635}},
      {{-0.8, 0.3, 0.1}, {0.2533328, -0.0949998, 0.9627032}},
      {{0.6, 0.0, 0.06}, {-0.19611614, 0.0, 0.98058068}},
  };
  constexpr double pins[4] = {-0.189107521155, -0.193599678347, 0.253332796279, -0.196116135138};
  for (std::size_t k = 0; k < 4; ++k) {
    const Vec3 normal = normal_of(one_facet(rows[k].centre));
    CHECK(glm::length(normal - rows[k].normal) < 1e-7);
    support::check_outside(
        {.what = "normal of a facet by the bisector, x, row " + std::to_string(k),
         .source = "bisector of two unit vectors, worked by hand",
         .outside = rows[k].normal.x,
         .ours = normal.x,
         .tolerance = 6e-8,
         .why = support::k_half_digit,
         .pin = pins[k]});
  }
}

TEST_CASE("a facet on the parent paraboloid faces along the paraboloid's own normal") {
  const double f = 1.5;
  const Vec3 centre{0.5, -0.7, (0.25 + 0.49) / (4.0 * f)};
  const Vec3 parent = base::unit({-centre.x / (2.0 * f), -centre.y / (2.0 * f), 1.0});
  CHECK(glm::length(normal_of(one_facet(centre)) - parent) < 1e-14);
}

TEST_CASE("an explicit normal is taken as it is, made unit") {
  dish::Dish dish = one_facet({0.5, 0.0, 0.1});
  dish.facets[0].normal = Vec3(0.0, 0.2, 2.0);
  CHECK(glm::length(normal_of(dish) - base::unit({0.0, 0.2, 2.0})) < 1e-15);
}

TEST_CASE("aim points are right and up as seen by someone who faces the lit side") {
  dish::Dish dish = one_facet({0.6, 0.0, 0.0});
  dish.facets[0].aim_m = {0.03, 0.02};
  // The lit side faces down to the facets; its right is the dish's -x when up is +y.
  const Vec3 aim = optics::aim_point(dish, dish.facets[0]);
  CHECK(glm::length(aim - Vec3(-0.03, 0.02, 1.5)) < 1e-15);
}

TEST_CASE("chief rays reach the aim off every form of secondary") {
  dish::Dish dish = one_facet({0.7, 0.3, 0.08});
  dish.receiver = {.centre_m = {0.0, 0.0, 0.1}, .lit_normal = {0.0, 0.0, 1.0}};
  const dish::SecondaryForm forms[] = {dish::FlatSecondary{}, dish::HyperboloidSecondary{2.0, 0.1},
                                       dish::EllipsoidSecondary{1.2, 0.1},
                                       dish::SphereSecondary{1.1}, dish::ParaboloidSecondary{0.6}};
  for (const dish::SecondaryForm& form : forms) {
    for (const base::Vec2 aim : {base::Vec2(0.0, 0.0), base::Vec2(0.04, -0.025)}) {
      for (const double tilt : {0.0, 0.01}) {
        dish.secondary = hyperboloid();
        dish.secondary->form = form;
        dish.secondary->tilt_rad = {tilt, -0.5 * tilt};
        dish.secondary->vertex_m = {tilt, 0.3 * tilt, 1.6};
        dish.facets[0].aim_m = aim;
        CAPTURE(form.index());
        CAPTURE(tilt);
        CHECK(chief_miss_m(dish) < 1e-11);
      }
    }
  }
}

TEST_CASE("at the far focus a two-mirror facet faces as it would at the prime focus") {
  dish::Dish dish = one_facet({0.7, 0.3, 0.08});
  dish.receiver = {.centre_m = {0.0, 0.0, 0.1}, .lit_normal = {0.0, 0.0, 1.0}};
  dish.secondary = hyperboloid();
  const Vec3 to_focus = base::unit(Vec3(0.0, 0.0, 2.0) - dish.facets[0].centre_m);
  CHECK(glm::length(normal_of(dish) - base::unit(to_focus + Vec3(0, 0, 1))) < 1e-15);
}

TEST_CASE("what cannot be canted is named") {
  dish::Dish dish = one_facet({0.7, 0.3, 0.08});
  dish.secondary = hyperboloid();  // the receiver still stands beyond it
  dish.receiver.centre_m = {0.0, 0.0, 2.5};
  dish.secondary->form = dish::FlatSecondary{};
  const auto pose = optics::nominal_pose(dish, dish.facets[0]);
  REQUIRE(!pose.ok());
  CHECK(pose.problems()[0].place == "facets/A1");

  dish.facets.push_back(dish.facets[0]);
  dish.facets[1].id = {"A2"};
  CHECK(optics::nominal_poses(dish).problems().size() == 2);

  dish.secondary->form = dish::HyperboloidSecondary{.near_focus_z_m = 1.0, .far_focus_z_m = 0.1};
  const auto inside_out = optics::nominal_pose(dish, dish.facets[0]);
  REQUIRE(!inside_out.ok());
  CHECK(inside_out.problems()[0].place == "secondary/near_focus_z_m");
}
