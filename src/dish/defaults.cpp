// Defaults that fit each other.
#include "dish/defaults.h"

#include <cmath>

#include "base/check.h"
#include "base/units.h"
#include "dish/recipes.h"

namespace dish {
namespace {

constexpr double k_screw_circle_m = 0.080;

}  // namespace

FacetType default_facet_type(double focal_length_m) {
  return {.name = {"hexagon"},
          .outline = Hexagon{},
          .surface = Spherical{.radius_m = 2.0 * focal_length_m}};
}

Mount default_mount() {
  Mount mount{.name = {"M6"}, .spring = default_spring().name};
  // Sine and cosine of 90, 210 and 330 degrees, written out so that the numbers are round.
  const double side = k_screw_circle_m * std::sqrt(3.0) / 2.0;
  mount.adjusters = {{.label = "1", .x_m = 0.0, .y_m = k_screw_circle_m},
                     {.label = "2", .x_m = -side, .y_m = -0.5 * k_screw_circle_m},
                     {.label = "3", .x_m = side, .y_m = -0.5 * k_screw_circle_m}};
  return mount;
}

Spring default_spring() { return {.name = {"return spring"}}; }

Receiver default_receiver(double focal_length_m) {
  return {.centre_m = {0.0, 0.0, focal_length_m}};
}

Secondary default_secondary(double focal_length_m) {
  return {.form = HyperboloidSecondary{.near_focus_z_m = focal_length_m,
                                       .far_focus_z_m = 0.05 * focal_length_m},
          .vertex_m = {0.0, 0.0, 0.8 * focal_length_m}};
}

Dish default_dish() {
  Dish dish;
  dish.facet_types = {default_facet_type(dish.focal_length_m)};
  dish.mounts = {default_mount()};
  dish.springs = {default_spring()};
  dish.receiver = default_receiver(dish.focal_length_m);
  const RingsLayout layout{.type = dish.facet_types[0].name, .mount = dish.mounts[0].name};
  auto facets = lay_rings(layout, dish.focal_length_m);
  CHECK(facets.ok(), "the default layout lays out");
  dish.facets = std::move(facets).value();
  return dish;
}

}  // namespace dish
