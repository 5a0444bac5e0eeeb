// Points of each pattern, and which facet gets which.
#include "dish/aims.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "base/elementary.h"

namespace dish {
namespace {

using base::Vec2;

/// Facets nearer than this to one radius go around together.
constexpr double k_same_radius_m = 1e-6;

Vec2 place_of_centre(const Facet& facet) { return {facet.centre_m.x, facet.centre_m.y}; }

/// A place along the dish's x and y as (right, up) in the receiver's plane.
Vec2 on_receiver(const Dish& dish, const Vec2& place) {
  const base::Mat3 axes =
      base::frame_of_board(base::unit(dish.receiver.lit_normal), dish.receiver.up);
  const base::Vec3 along{place.x, place.y, 0.0};
  return {glm::dot(along, axes[0]), glm::dot(along, axes[1])};
}

/// The golden angle in turns.
double golden_turn() { return 0.5 * (3.0 - std::sqrt(5.0)); }

Vec2 sunflower_point(std::size_t k, std::size_t count, double radius_m) {
  const base::SinCos at = base::sincos_turns(static_cast<double>(k) * golden_turn());
  const double r =
      radius_m * std::sqrt((static_cast<double>(k) + 0.5) / static_cast<double>(count));
  return {r * at.cos, r * at.sin};
}

/// Anticlockwise from the +x axis, without angles: the same order on every machine.
bool goes_before(const Vec2& a, const Vec2& b) {
  const auto lower = [](const Vec2& p) { return p.y < 0.0 || (p.y == 0.0 && p.x < 0.0); };
  if (lower(a) != lower(b)) return lower(b);
  return base::cross(a, b) > 0.0;
}

Vec2 direction(const Vec2& place) {
  const double size = glm::length(place);
  return size > 0.0 ? place / size : Vec2{0.0, 0.0};
}

/// How many places to go on around so that facets and points lie in like directions.
std::size_t best_shift(const std::vector<Vec2>& facets, const std::vector<Vec2>& points) {
  std::size_t best = 0;
  double most = -1e9;
  for (std::size_t shift = 0; shift < points.size(); ++shift) {
    double likeness = 0.0;
    for (std::size_t i = 0; i < facets.size(); ++i) {
      const Vec2& point = points[(i + shift) % points.size()];
      likeness += glm::dot(direction(facets[i]), direction(point));
    }
    if (likeness > most + 1e-9) {
      most = likeness;
      best = shift;
    }
  }
  return best;
}

/// Facets by their distance from the axis, then around.
std::vector<std::size_t> by_radius(const Dish& dish) {
  std::vector<std::size_t> order(dish.facets.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return glm::length(place_of_centre(dish.facets[a])) <
           glm::length(place_of_centre(dish.facets[b]));
  });
  return order;
}

std::vector<Vec2> disc_aims(const Dish& dish, double radius_m) {
  std::vector<Vec2> aims(dish.facets.size());
  const std::vector<std::size_t> order = by_radius(dish);
  for (std::size_t first = 0; first < order.size();) {
    const double radius = glm::length(place_of_centre(dish.facets[order[first]]));
    std::vector<std::size_t> ring;
    std::vector<Vec2> points;
    for (std::size_t k = first; k < order.size(); ++k) {
      if (glm::length(place_of_centre(dish.facets[order[k]])) > radius + k_same_radius_m) break;
      ring.push_back(order[k]);
      points.push_back(sunflower_point(k, order.size(), radius_m));
    }
    first += ring.size();
    std::stable_sort(ring.begin(), ring.end(), [&](std::size_t a, std::size_t b) {
      return goes_before(place_of_centre(dish.facets[a]), place_of_centre(dish.facets[b]));
    });
    std::stable_sort(points.begin(), points.end(), goes_before);
    std::vector<Vec2> places;
    for (const std::size_t i : ring) places.push_back(place_of_centre(dish.facets[i]));
    const std::size_t shift = best_shift(places, points);
    for (std::size_t i = 0; i < ring.size(); ++i) {
      aims[ring[i]] = on_receiver(dish, points[(i + shift) % points.size()]);
    }
  }
  return aims;
}

std::vector<Vec2> scaled_aims(const Dish& dish, double radius_m) {
  double most = 0.0;
  for (const Facet& facet : dish.facets) most = std::max(most, glm::length(place_of_centre(facet)));
  std::vector<Vec2> aims;
  for (const Facet& facet : dish.facets) {
    const double scale = most > 0.0 ? radius_m / most : 0.0;
    aims.push_back(on_receiver(dish, place_of_centre(facet) * scale));
  }
  return aims;
}

}  // namespace

std::vector<Vec2> aims_of(const Dish& dish, const AimPattern& pattern) {
  if (const auto* single = std::get_if<SingleAim>(&pattern)) {
    return std::vector<Vec2>(dish.facets.size(), single->aim_m);
  }
  if (const auto* disc = std::get_if<DiscAims>(&pattern)) return disc_aims(dish, disc->radius_m);
  return scaled_aims(dish, std::get<ScaledAims>(pattern).radius_m);
}

double peak_ratio(double radius_m, double sigma_m) {
  const double u = 0.5 * (radius_m / sigma_m) * (radius_m / sigma_m);
  // 1 - exp(-u) over u; its series where the difference would lose its digits.
  if (u < 1e-5) return 1.0 - u * (0.5 - u / 6.0);
  return (1.0 - base::exp_of(-std::min(u, 700.0))) / u;
}

double most_aim_radius_m(double receiver_radius_m, double sigma_m) {
  return std::max(0.0, receiver_radius_m - 2.5 * sigma_m);
}

}  // namespace dish
