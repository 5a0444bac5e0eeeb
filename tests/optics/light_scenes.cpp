// See light_scenes.h.
#include "light_scenes.h"

#include <fmt/format.h>

#include <cmath>

#include "base/units.h"

#include <doctest/doctest.h>

namespace light_scenes {
namespace {

using base::Vec3;

dish::FacetType perfect_type(const std::string& name, const dish::Outline& outline,
                             const dish::Surface& surface) {
  return {.name = {name},
          .outline = outline,
          .surface = surface,
          .reflectance = 1.0,
          .slope_error_rad = 0.0,
          .specularity_error_rad = 0.0};
}

}  // namespace

dish::Dish one_facet(const dish::Outline& outline, const dish::Surface& surface, const Vec3& centre,
                     const Vec3& normal) {
  dish::Dish dish;
  dish.sun = {.half_angle_rad = 0.00465, .dni_W_m2 = 1000.0};
  dish.facet_types.push_back(perfect_type("tile", outline, surface));
  dish.facets.push_back(
      {.id = {"A1"}, .type = {"tile"}, .centre_m = centre, .normal = base::unit(normal)});
  dish.receiver.shades = false;
  return dish;
}

dish::Dish whole_paraboloid(double rim_angle_deg, double receiver_radius_m) {
  const double diameter = 4.0 * std::tan(0.5 * base::rad_from_deg(rim_angle_deg));
  dish::Dish dish = one_facet(dish::Disc{diameter}, dish::Paraboloid{1.0}, {0, 0, 0}, {0, 0, 1});
  dish.receiver.centre_m = {0.0, 0.0, 1.0};
  set_receiver_radius(dish, receiver_radius_m);
  return dish;
}

dish::Dish oblique_facet(const dish::Outline& outline, const dish::Surface& surface,
                         double incidence_deg, double distance_m) {
  const double i = base::rad_from_deg(incidence_deg);
  dish::Dish dish = one_facet(outline, surface, {0, 0, 0}, {std::sin(i), 0.0, std::cos(i)});
  const Vec3 leaving{std::sin(2.0 * i), 0.0, std::cos(2.0 * i)};
  dish.receiver.centre_m = distance_m * leaving;
  dish.receiver.lit_normal = -leaving;
  dish.receiver.up = {0.0, 1.0, 0.0};
  return dish;
}

dish::Dish faceted_dish(bool is_flat, double receiver_radius_m) {
  dish::Dish dish;
  dish.sun = {.half_angle_rad = 0.00465, .dni_W_m2 = 1000.0};
  dish.focal_length_m = 1.0;
  dish.receiver.centre_m = {0.0, 0.0, 1.0};
  dish.receiver.shades = false;
  for (int column = -3; column <= 3; ++column) {
    for (int row = -3; row <= 3; ++row) {
      if (column == 0 && row == 0) continue;
      const double x = 0.11 * column;
      const double y = 0.11 * row;
      const Vec3 centre{x, y, 0.25 * (x * x + y * y)};
      const Vec3 to_focus = Vec3(0.0, 0.0, 1.0) - centre;
      const double distance = glm::length(to_focus);
      const Vec3 normal = base::unit(to_focus / distance + Vec3(0.0, 0.0, 1.0));
      const base::Mat3 frame = base::frame_of_normal(normal);
      const std::string name = fmt::format("{}/{}", column, row);
      const dish::Surface surface =
          is_flat ? dish::Surface(dish::Flat{}) : dish::Surface(dish::Spherical{2.0 * distance});
      dish.facet_types.push_back(perfect_type(name, dish::Rectangle{0.1, 0.1}, surface));
      // Turned so that u follows the projection of the dish's x.
      dish.facets.push_back({.id = {name},
                             .type = {name},
                             .centre_m = centre,
                             .clocking_rad = std::atan2(frame[1].x, frame[0].x)});
    }
  }
  set_receiver_radius(dish, receiver_radius_m);
  return dish;
}

dish::Dish lattice(int rings, bool is_flat_frame) {
  dish::Dish dish;
  dish.focal_length_m = 2.0;
  dish.receiver.centre_m = {0.0, 0.0, 2.0};
  set_receiver_radius(dish, 0.05);
  const double pitch = 0.25;
  for (int q = -rings; q <= rings; ++q) {
    for (int r = -rings; r <= rings; ++r) {
      if (std::abs(q + r) > rings || (q == 0 && r == 0)) continue;
      const double x = pitch * (q + 0.5 * r);
      const double y = pitch * std::sqrt(0.75) * r;
      const double z = is_flat_frame ? 0.0 : (x * x + y * y) / 8.0;
      const std::string name = fmt::format("{}/{}", q, r);
      const double distance = std::hypot(std::hypot(x, y), 2.0 - z);
      dish.facet_types.push_back({.name = {name},
                                  .outline = dish::Hexagon{0.24},
                                  .surface = dish::Spherical{2.0 * distance}});
      dish.facets.push_back({.id = {name}, .type = {name}, .centre_m = {x, y, z}});
    }
  }
  return dish;
}

dish::Dish lattice_with_secondary(int rings) {
  dish::Dish dish = lattice(rings, false);
  dish.secondary = {.form = dish::HyperboloidSecondary{2.0, 0.3},
                    .vertex_m = {0.0, 0.0, 1.6},
                    .diameter_m = 0.1 + 0.2 * rings * 0.25 * 2.0,
                    .slope_error_rad = 0.0005};
  dish.receiver.centre_m = {0.0, 0.0, 0.3};
  dish.receiver.lit_normal = {0.0, 0.0, 1.0};
  set_receiver_radius(dish, 0.12);
  return dish;
}

void set_receiver_radius(dish::Dish& dish, double radius_m) {
  dish.receiver.shape = dish::DiscReceiver{2.0 * radius_m};
}

optics::TraceResult traced(const dish::Dish& dish, const optics::TraceSettings& settings) {
  auto result = optics::trace(dish, settings);
  if (!result) MESSAGE(base::to_text(result.problems()));
  REQUIRE(result.ok());
  return std::move(result).value();
}

double share_within(dish::Dish dish, double radius_m, std::uint64_t rays) {
  set_receiver_radius(dish, radius_m);
  return traced(dish, {.rays = rays, .map_cells = 8}).intercept_factor;
}

optics::Scene scene_of(const dish::Dish& dish, const optics::SceneOptions& options) {
  auto scene = optics::make_scene(dish, options);
  if (!scene) FAIL(base::to_text(scene.problems()));
  return std::move(scene).value();
}

}  // namespace light_scenes
