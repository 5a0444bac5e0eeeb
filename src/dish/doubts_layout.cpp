// Doubts about where things stand: facets, receiver, secondary.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "dish/doubts.h"
#include "dish/outline_facts.h"
#include "dish/overlap.h"
#include "dish/part_checks.h"

namespace dish {
namespace {

using base::mm_from_m;
using base::Vec2;
using base::Vec3;

/// Distances up to this share of the focal length are taken as meant.
constexpr double k_slack_share = 0.01;
constexpr std::size_t k_most_pairs = 10;

void add_overlaps(std::vector<Finding>& findings, const Dish& dish) {
  const std::vector<FacetPair> pairs = overlapping_facets(dish, k_most_pairs);
  for (const auto& [a, b] : pairs)
    add_doubt(findings, places_of({dish.facets[a].id, dish.facets[b].id}),
              "they overlap as seen from the sun: they collide, or one shades the other");
  if (pairs.size() == k_most_pairs)
    add_doubt(findings, "facets", "more may overlap; only the first ten pairs are named");
}

void add_polygon_doubts(std::vector<Finding>& findings, const Dish& dish) {
  for (const FacetType& type : dish.facet_types) {
    if (std::holds_alternative<Polygon>(type.outline) && !contains(type.outline, Vec2{0.0, 0.0}))
      add_doubt(
          findings, place_of(type.name),
          "the facet's centre (0, 0), which its screws and its tilt refer to, lies outside the "
          "polygon");
  }
}

bool on_receiver(const ReceiverShape& shape, const Vec2& at_m) {
  if (const auto* disc = std::get_if<DiscReceiver>(&shape))
    return glm::length(at_m) <= 0.5 * disc->diameter_m;
  const auto& rectangle = std::get<RectangleReceiver>(shape);
  return std::abs(at_m.x) <= 0.5 * rectangle.width_m &&
         std::abs(at_m.y) <= 0.5 * rectangle.height_m;
}

void add_aim_doubts(std::vector<Finding>& findings, const Dish& dish) {
  std::vector<FacetId> beside;
  for (const Facet& facet : dish.facets) {
    if (!on_receiver(dish.receiver.shape, facet.aim_m)) beside.push_back(facet.id);
  }
  if (!beside.empty()) add_doubt(findings, places_of(beside), "aimed beside the receiver");
}

/// Light comes from the secondary, or else from the middle of the facets.
Vec3 where_light_comes_from(const Dish& dish) {
  if (dish.secondary) return dish.secondary->vertex_m;
  Vec3 sum{0.0, 0.0, 0.0};
  for (const Facet& facet : dish.facets) sum += facet.centre_m;
  return sum / static_cast<double>(dish.facets.size());
}

void add_facing_doubts(std::vector<Finding>& findings, const Dish& dish) {
  const Vec3 to_light = where_light_comes_from(dish) - dish.receiver.centre_m;
  if (glm::dot(to_light, dish.receiver.lit_normal) > 0.0) return;
  add_doubt(findings, "receiver",
            dish.secondary ? "its lit side faces away from the secondary"
                           : "its lit side faces away from the facets");
}

void add_focus_doubts(std::vector<Finding>& findings, const Dish& dish, const Vec3& focus,
                      const std::string& whose) {
  const double distance = glm::distance(dish.receiver.centre_m, focus);
  if (distance <= 5.0 * k_slack_share * dish.focal_length_m) return;
  add_doubt(findings, "receiver",
            fmt::format("its centre is {:.0f} mm from {} at z = {:.3f} m", mm_from_m(distance),
                        whose, focus.z));
}

/// The two foci of a conic secondary; nothing for other forms.
std::optional<Vec2> foci_of(const SecondaryForm& form) {
  if (const auto* h = std::get_if<HyperboloidSecondary>(&form))
    return Vec2{h->near_focus_z_m, h->far_focus_z_m};
  if (const auto* e = std::get_if<EllipsoidSecondary>(&form))
    return Vec2{e->near_focus_z_m, e->far_focus_z_m};
  return std::nullopt;
}

void add_secondary_doubts(std::vector<Finding>& findings, const Dish& dish) {
  const Secondary& secondary = *dish.secondary;
  const double f = dish.focal_length_m;
  if (const auto foci = foci_of(secondary.form)) {
    if (std::abs(foci->x - f) > k_slack_share * f)
      add_doubt(findings, "secondary",
                fmt::format("its near focus is at z = {:.3f} m, the dish's focus at {:.3f} m",
                            foci->x, f));
    add_focus_doubts(findings, dish, {secondary.vertex_m.x, secondary.vertex_m.y, foci->y},
                     "the secondary's far focus");
  }
  double highest = -1e300;
  for (const Facet& facet : dish.facets) highest = std::max(highest, facet.centre_m.z);
  if (secondary.vertex_m.z <= highest)
    add_doubt(findings, "secondary", "it does not stand above all facets");
}

}  // namespace

std::vector<Finding> layout_doubts(const Dish& dish) {
  std::vector<Finding> findings;
  add_polygon_doubts(findings, dish);
  add_overlaps(findings, dish);
  add_aim_doubts(findings, dish);
  add_facing_doubts(findings, dish);
  if (dish.secondary) {
    add_secondary_doubts(findings, dish);
  } else {
    add_focus_doubts(findings, dish, {0.0, 0.0, dish.focal_length_m}, "the dish's focus");
  }
  return findings;
}

}  // namespace dish
