// Rows and rings of facets.
#include "align/work_order.h"

#include <algorithm>
#include <cstddef>
#include <functional>
#include <set>

#include "dish/outline_facts.h"

namespace align {
namespace {

using base::Vec2;

constexpr double k_share_of_radius = 0.75;

struct Stop {
  dish::FacetId id;
  Vec2 at{0.0, 0.0};    ///< right and up for the person
  double height = 0.0;  ///< what rows or rings are made of
};

double band_of(const dish::Dish& dish) {
  double least = 1e9;
  for (const dish::FacetType& type : dish.facet_types) {
    least = std::min(least, dish::bounding_radius(type.outline));
  }
  return k_share_of_radius * least;
}

/// From straight down anticlockwise, without angles: the same order on every machine.
bool is_before_around(const Vec2& a, const Vec2& b) {
  const auto left_half = [](const Vec2& p) { return p.x < 0.0 || (p.x == 0.0 && p.y > 0.0); };
  if (left_half(a) != left_half(b)) return left_half(b);
  return base::cross(a, b) > 0.0;
}

/// Bands of like height, each put in order by `arrange`.
std::vector<dish::FacetId> in_bands(std::vector<Stop> stops, double band,
                                    const std::function<void(std::vector<Stop>&, bool)>& arrange) {
  std::stable_sort(stops.begin(), stops.end(),
                   [](const Stop& a, const Stop& b) { return a.height < b.height; });
  std::vector<dish::FacetId> ids;
  bool odd = false;
  for (std::size_t first = 0; first < stops.size(); odd = !odd) {
    std::vector<Stop> row;
    const double lowest = stops[first].height;
    while (first < stops.size() && stops[first].height <= lowest + band) {
      row.push_back(stops[first++]);
    }
    arrange(row, odd);
    for (const Stop& stop : row) ids.push_back(stop.id);
  }
  return ids;
}

}  // namespace

std::vector<dish::FacetId> work_order(const dish::Dish& dish, const std::vector<dish::FacetId>& ids,
                                      dish::Side side, WorkOrder order) {
  const std::set<dish::FacetId> wanted(ids.begin(), ids.end());
  std::vector<Stop> stops;
  for (const dish::Facet& facet : dish.facets) {
    if (wanted.count(facet.id) == 0) continue;
    const double mirrored = side == dish::Side::back ? -1.0 : 1.0;
    const Vec2 at{mirrored * facet.centre_m.x, facet.centre_m.y};
    stops.push_back({facet.id, at, order == WorkOrder::rows ? at.y : glm::length(at)});
  }
  if (order == WorkOrder::rows) {
    return in_bands(std::move(stops), band_of(dish), [](std::vector<Stop>& row, bool odd) {
      std::stable_sort(row.begin(), row.end(), [odd](const Stop& a, const Stop& b) {
        return odd ? a.at.x > b.at.x : a.at.x < b.at.x;
      });
    });
  }
  return in_bands(std::move(stops), band_of(dish), [](std::vector<Stop>& ring, bool /*odd*/) {
    std::stable_sort(ring.begin(), ring.end(),
                     [](const Stop& a, const Stop& b) { return is_before_around(a.at, b.at); });
  });
}

}  // namespace align
