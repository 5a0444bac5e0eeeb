// The order of work spares the ladder.
#include "align/work_order.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "support/reference_dish.h"

namespace {

std::vector<dish::FacetId> all_ids(const dish::Dish& dish) {
  std::vector<dish::FacetId> ids;
  for (const dish::Facet& facet : dish.facets) ids.push_back(facet.id);
  return ids;
}

base::Vec2 centre_in(const dish::Dish& dish, const dish::FacetId& id) {
  const dish::Facet& facet = dish.facets[dish::find_facet(dish, id)];
  return {facet.centre_m.x, facet.centre_m.y};
}

}  // namespace

TEST_CASE("rows from the bottom up, each the other way, as the person behind sees them") {
  const dish::Dish dish = support::reference_dish();
  const auto order = align::work_order(dish, all_ids(dish), dish::Side::back);
  REQUIRE(order.size() == 36);
  double walked = 0.0;
  for (std::size_t i = 1; i < order.size(); ++i) {
    const base::Vec2 from = centre_in(dish, order[i - 1]);
    const base::Vec2 to = centre_in(dish, order[i]);
    CHECK(to.y > from.y - 1e-9);
    walked += glm::distance(from, to);
  }
  // Seven rows of 4, 5, 6, 6 (the centre is empty), 6, 5 and 4 with 250 mm between neighbours.
  CHECK(walked < 36 * 0.25 + 0.3);
  // Behind the dish the left is +x.
  CHECK(centre_in(dish, order[0]).x == doctest::Approx(0.375));
  CHECK(centre_in(dish, order[3]).x == doctest::Approx(-0.375));
  CHECK(centre_in(dish, order[4]).x == doctest::Approx(-0.5));
  const auto front = align::work_order(dish, all_ids(dish), dish::Side::front);
  CHECK(centre_in(dish, front[0]).x == doctest::Approx(-0.375));
}

TEST_CASE("only what is asked for, once, and nothing unknown") {
  const dish::Dish dish = support::reference_dish();
  const auto order =
      align::work_order(dish, {dish.facets[20].id, {"none"}, dish.facets[3].id, dish.facets[20].id},
                        dish::Side::back);
  CHECK(order.size() == 2);
  CHECK(align::work_order(dish, {}, dish::Side::back).empty());
}

TEST_CASE("rings from the inside out, each around from the bottom") {
  const dish::Dish dish = support::reference_dish();
  const auto order =
      align::work_order(dish, all_ids(dish), dish::Side::front, align::WorkOrder::rings);
  REQUIRE(order.size() == 36);
  for (std::size_t i = 0; i < 6; ++i) {
    CHECK(glm::length(centre_in(dish, order[i])) == doctest::Approx(0.25));
  }
  for (std::size_t i = 1; i < 6; ++i) {
    CHECK(base::cross(centre_in(dish, order[i - 1]), centre_in(dish, order[i])) > 0.0);
  }
  CHECK(centre_in(dish, order[0]).x > 0.0);
  CHECK(centre_in(dish, order[0]).y < 0.0);
}
