#include "support/reference_dish.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace support {
namespace {

dish::Dish empty_dish() {
  dish::Dish dish;
  dish.focal_length_m = 2.0;
  dish.receiver.centre_m = {0.0, 0.0, 2.0};
  dish.facet_types.push_back({.name = {"tile"}});
  dish.mounts.push_back(reference_mount());
  return dish;
}

dish::Facet facet_at(const std::string& id, const base::Vec3& centre_m) {
  return {.id = {id}, .type = {"tile"}, .mount = {"plate"}, .centre_m = centre_m};
}

}  // namespace

dish::Mount reference_mount() {
  dish::Mount mount{.name = {"plate"}};
  const double s = std::sqrt(3.0) / 2.0;
  const std::array<base::Vec2, 3> seats{
      base::Vec2{0.0, 0.08}, {-0.08 * s, -0.04}, {0.08 * s, -0.04}};
  for (std::size_t k = 0; k < 3; ++k) {
    mount.adjusters.push_back({.label = std::to_string(k + 1),
                               .x_m = seats[k].x,
                               .y_m = seats[k].y,
                               .pitch_m = 0.001,
                               .travel_min_m = -0.05,
                               .travel_max_m = 0.05});
  }
  return mount;
}

dish::Dish reference_dish() {
  dish::Dish dish = empty_dish();
  const double pitch = 0.25;
  for (int q = -3; q <= 3; ++q) {
    for (int r = -3; r <= 3; ++r) {
      const int ring = std::max({std::abs(q), std::abs(r), std::abs(q + r)});
      if (ring < 1 || ring > 3) continue;
      const double x = pitch * (q + 0.5 * r);
      const double y = pitch * std::sqrt(3.0) / 2.0 * r;
      dish.facets.push_back(facet_at("F" + std::to_string(dish.facets.size() + 1),
                                     {x, y, (x * x + y * y) / (4.0 * dish.focal_length_m)}));
    }
  }
  return dish;
}

dish::Dish one_facet_dish(const base::Vec3& centre_m) {
  dish::Dish dish = empty_dish();
  dish.facets.push_back(facet_at("A1", centre_m));
  return dish;
}

}  // namespace support
