// Centres of facets as a camera has them before it.
#include "naming/look_back.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/units.h"
#include "naming/schemes.h"
#include "optics/outline.h"

namespace naming {
namespace {

constexpr double k_camera_focal_lengths = 15.0;
constexpr double k_least_ahead_m = 0.05;

/// Distance from the nearest of some places; from the middle when there are none.
double loneliness(const base::Vec2& place_m, const std::vector<base::Vec2>& others_m) {
  if (others_m.empty()) return glm::length(place_m);
  double least = 1e300;
  for (const base::Vec2& other : others_m) least = std::min(least, glm::distance(place_m, other));
  return least;
}

}  // namespace

base::Result<std::vector<FacetInView>> facets_seen_from(const dish::Dish& dish,
                                                        const base::Vec3& camera_m) {
  std::vector<FacetInView> facets;
  facets.reserve(dish.facets.size());
  for (const dish::Facet& facet : dish.facets) {
    const base::Vec3& centre = facet.centre_m;
    if (!(camera_m.z > centre.z + k_least_ahead_m) || !(camera_m.z > k_least_ahead_m)) {
      return base::Problem{"camera_mm",
                           fmt::format("{:.0f} mm up the axis", base::mm_from_m(camera_m.z)),
                           fmt::format("a camera in front of all facets; {} stands {:.0f} mm up",
                                       facet.id.text, base::mm_from_m(centre.z))};
    }
    const double away = camera_m.z / (camera_m.z - centre.z);
    const base::Vec3 thrown = camera_m + away * (centre - camera_m);
    FacetInView seen{.facet = facet.id, .plane_m = {thrown.x, thrown.y}};
    if (const auto* type = dish::find_facet_type(dish, facet.type)) {
      const auto edge = optics::make_edge(type->outline, "facets/" + facet.id.text);
      if (!edge) return edge.problems();
      seen.radius_m = away * edge.value().surely_inside_m;
    }
    facets.push_back(std::move(seen));
  }
  return facets;
}

std::optional<dish::Board> screen_board(const dish::Dish& dish, double before_m) {
  if (dish.secondary) return board_before_focus(dish, before_m);
  if (before_m == 0.0) return std::nullopt;
  const dish::Receiver& receiver = dish.receiver;
  return dish::Board{.centre_m = receiver.centre_m + before_m * base::unit(receiver.lit_normal),
                     .lit_normal = receiver.lit_normal,
                     .up = receiver.up};
}

base::Vec3 good_camera_m(const dish::Dish& dish) {
  return {0.0, 0.0, k_camera_focal_lengths * dish.focal_length_m};
}

std::optional<std::size_t> next_to_point(const std::vector<FacetInView>& facets,
                                         const std::vector<dish::FacetId>& pointed) {
  std::vector<bool> is_taken(facets.size(), false);
  std::vector<base::Vec2> taken_m;
  for (std::size_t k = 0; k < facets.size(); ++k) {
    is_taken[k] = std::find(pointed.begin(), pointed.end(), facets[k].facet) != pointed.end();
    if (is_taken[k]) taken_m.push_back(facets[k].plane_m);
  }
  std::optional<std::size_t> next;
  double most = -1.0;
  for (std::size_t k = 0; k < facets.size(); ++k) {
    if (is_taken[k]) continue;
    const double lonely = loneliness(facets[k].plane_m, taken_m);
    // A hair's breadth more, so that equal ones keep the dish's order on every machine.
    if (lonely <= most + 1e-9) continue;
    most = lonely;
    next = k;
  }
  return next;
}

}  // namespace naming
