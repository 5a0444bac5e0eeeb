// Laying hexagons around the axis.
#include "support/speed_scenes.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace support {
namespace {

double across_flats_m(std::size_t facets) {
  if (facets <= 37) return 0.5;
  if (facets <= 127) return 0.4;
  return facets <= 500 ? 0.25 : 0.18;
}

/// Lattice places nearest to the axis first; equally far ones in a fixed order.
std::vector<base::Vec2> places(std::size_t count, double pitch) {
  struct Place {
    int square, q, r;
  };
  const int rings = 2 + static_cast<int>(std::sqrt(static_cast<double>(count)));
  std::vector<Place> found;
  for (int q = -rings; q <= rings; ++q) {
    for (int r = -rings; r <= rings; ++r) {
      found.push_back({q * q + q * r + r * r, q, r});
    }
  }
  std::sort(found.begin(), found.end(), [](const Place& a, const Place& b) {
    if (a.square != b.square) return a.square < b.square;
    return a.q != b.q ? a.q < b.q : a.r < b.r;
  });
  std::vector<base::Vec2> made;
  for (std::size_t k = 0; k < count; ++k) {
    made.emplace_back(pitch * (found[k].q + 0.5 * found[k].r),
                      pitch * std::sqrt(0.75) * found[k].r);
  }
  return made;
}

/// Facets at equal distances from the focus share a type.
std::size_t type_of(dish::Dish& dish, std::vector<double>& distances, double distance,
                    double across_m, const SpeedOptions& options) {
  for (std::size_t k = distances.size(); k-- > 0;) {
    if (std::abs(distances[k] - distance) < 1e-9) return k;
  }
  distances.push_back(distance);
  const dish::Surface surface = options.is_flat ? dish::Surface(dish::Flat{})
                                                : dish::Surface(dish::Spherical{2.0 * distance});
  dish.facet_types.push_back({.name = {"T" + std::to_string(distances.size())},
                              .outline = dish::Hexagon{across_m},
                              .surface = surface,
                              .slope_error_rad = options.slope_error_rad,
                              .specularity_error_rad = 0.0005});
  return distances.size() - 1;
}

void add_receiver(dish::Dish& dish, SpeedScene scene, double across_m, bool is_flat) {
  const double f = dish.focal_length_m;
  if (scene == SpeedScene::two_mirror) {
    dish.secondary = {.form = dish::HyperboloidSecondary{f, 0.15 * f},
                      .vertex_m = {0.0, 0.0, 0.8 * f},
                      .diameter_m = 0.4 * f};
    dish.receiver = {.shape = dish::DiscReceiver{is_flat ? 0.33 * f : 0.1625 * f},
                     .centre_m = {0.0, 0.0, 0.15 * f},
                     .lit_normal = {0.0, 0.0, 1.0}};
    return;
  }
  const double radius = 0.025 * f + (is_flat ? 0.6 * across_m : 0.0);
  dish.receiver = {.shape = dish::DiscReceiver{2.0 * radius}, .centre_m = {0.0, 0.0, f}};
  dish.blockers.push_back(
      {"housing",
       dish::DiscBlocker{{0.0, 0.0, 1.01 * f}, {0.0, 0.0, 1.0}, std::max(0.1 * f, 2.0 * radius)}});
}

}  // namespace

dish::Dish speed_scene(SpeedScene scene, std::size_t facets, const SpeedOptions& options) {
  const double across = across_flats_m(facets);
  const auto centres = places(facets, across + 0.01);
  dish::Dish dish;
  dish.focal_length_m = 0.6 * (2.0 * glm::length(centres.back()) + across);
  std::vector<double> distances;
  for (const base::Vec2& at : centres) {
    const double f = dish.focal_length_m;
    const double z = scene == SpeedScene::flat_frame ? 0.0 : glm::dot(at, at) / (4.0 * f);
    const double distance = std::hypot(glm::length(at), f - z);
    const std::size_t type = type_of(dish, distances, distance, across, options);
    dish.facets.push_back({.id = {"F" + std::to_string(dish.facets.size() + 1)},
                           .type = dish.facet_types[type].name,
                           .centre_m = {at.x, at.y, z}});
  }
  add_receiver(dish, scene, across, options.is_flat);
  return dish;
}

}  // namespace support
