// Form errors, coatings and suns in the checks and edits of a dish.
#include <cmath>
#include <limits>

#include "dish/checks.h"
#include "dish/defaults.h"
#include "dish/edit.h"
#include "dish/outline_facts.h"
#include "dish/part_checks.h"
#include "support/says.h"

#include <doctest/doctest.h>

namespace {

dish::SharedSagMap map_over(double half_m, int side, double sag_m) {
  dish::SagMap map;
  map.first_m = {-half_m, -half_m};
  map.step_m = base::Vec2(2.0 * half_m / (side - 1));
  map.columns = side;
  map.rows = side;
  map.sag_m.assign(static_cast<std::size_t>(side) * static_cast<std::size_t>(side), sag_m);
  return std::make_shared<const dish::SagMap>(std::move(map));
}

dish::FacetType type_with(const dish::FormError& error) {
  dish::FacetType type = dish::default_dish().facet_types[0];
  type.form_error = error;
  return type;
}

bool says(const base::Problems& problems, const std::string& part) {
  return support::says(base::to_text(problems), part);
}

constexpr double k_no_number = std::numeric_limits<double>::quiet_NaN();

}  // namespace

TEST_CASE("absurd form errors are named") {
  CHECK(problems_of(type_with({})).empty());
  CHECK(says(problems_of(type_with({.defocus_m = 1.0})), "defocus_mm: 1000 mm"));
  CHECK(says(problems_of(type_with({.astigmatism_0_m = k_no_number})),
             "astigmatism_0_mm: not a number"));
  CHECK(says(problems_of(type_with({.trefoil_30_m = -HUGE_VAL})), "trefoil_30_mm"));
  CHECK(says(problems_of(type_with({.roll_off = dish::EdgeRollOff{0.01, 2.0}})),
             "edge roll-off, slope_mrad: 2000 mrad"));
  CHECK(says(problems_of(type_with({.roll_off = dish::EdgeRollOff{0.3, 0.002}})),
             "it is 300 mm wide; expected at most half the facet's narrow width"));
}

TEST_CASE("maps that are no grid, not finite or too small are named") {
  const auto with_map = [](const dish::SagMap& map) {
    return problems_of(type_with({.sag_map = std::make_shared<const dish::SagMap>(map)}));
  };
  const dish::SagMap good = *map_over(0.15, 5, 1e-5);
  CHECK(with_map(good).empty());
  CHECK(says(with_map({}), "sag map: 0 heights in 0 columns and 0 rows"));
  dish::SagMap bad = good;
  bad.columns = bad.rows = 1;
  bad.sag_m.resize(1);
  CHECK(says(with_map(bad), "1 heights in 1 columns and 1 rows; expected a full grid of 2 to 500"));
  bad = good;
  bad.sag_m.pop_back();
  CHECK(says(with_map(bad), "24 heights in 5 columns and 5 rows"));
  bad = good;
  bad.columns = 1 << 20;
  bad.rows = 1 << 20;
  CHECK(says(with_map(bad), "expected a full grid"));
  bad = good;
  bad.sag_m[7] = k_no_number;
  CHECK(says(with_map(bad), "sag map: row 2, column 3 is not a number"));
  bad = good;
  bad.step_m.x = k_no_number;
  CHECK(says(with_map(bad), "step_mm: not a number"));
  CHECK(says(with_map(*map_over(0.02, 5, 0.0)), "it covers u -20 to 20 mm, v -20 to 20 mm"));
}

TEST_CASE("a facet's own map must cover the outline of its type, under every edit") {
  const dish::Dish dish = dish::default_dish();
  const dish::FacetId id = dish.facets[0].id;
  const auto refused = dish::apply(dish, dish::edit::SetFacetSagMap{id, map_over(0.03, 5, 0.0)});
  REQUIRE(!refused.ok());
  CHECK(says(refused.problems(), "sag map: it covers"));
  CHECK(says(refused.problems(), id.text));
  const auto with_map = dish::apply(dish, dish::edit::SetFacetSagMap{id, map_over(0.15, 5, 0.0)});
  REQUIRE(with_map.ok());
  CHECK(dish::title_of(dish::edit::SetFacetSagMap{id, map_over(0.15, 5, 0.0)}) ==
        "Set the sag map of facet " + id.text);
  dish::FacetType wide = dish.facet_types[0];
  wide.outline = dish::Hexagon{0.9};
  CHECK(!dish::apply(with_map.value(), dish::edit::UpsertFacetType{wide}).ok());
  CHECK(dish::apply(dish, dish::edit::UpsertFacetType{wide}).ok());
  const auto without = dish::apply(with_map.value(), dish::edit::SetFacetSagMap{id, nullptr});
  REQUIRE(without.ok());
  CHECK(without.value().facets[0].sag_map == nullptr);
}

TEST_CASE("suns, coatings and dirt out of range are named") {
  const auto sun = [](const dish::SunShape& shape) {
    return dish::problems_of(dish::Sun{.shape = shape});
  };
  CHECK(says(sun(dish::CircumsolarSun{0.81}), "sun, circumsolar_ratio: 0.81"));
  CHECK(says(sun(dish::CircumsolarSun{k_no_number}), "circumsolar_ratio: not a number"));
  CHECK(says(sun(dish::LimbDarkenedSun{1.5}), "limb_darkening: 1.5"));
  CHECK(says(sun(dish::GaussianSun{1.0}), "sigma_mrad: 1000 mrad"));
  dish::FacetType type = type_with({});
  type.coating = dish::Coating{dish::Metal::gold, dish::Cover::acrylic, 2.0};
  CHECK(says(problems_of(type), "coating, thickness_mm: 2000 mm"));
  type.coating.reset();
  type.cleanliness = 1.2;
  CHECK(says(problems_of(type), "cleanliness: 1.2"));
}

TEST_CASE("half the narrow width of every outline") {
  // Source: the shapes' own geometry; a triangle of sides 3, 4, 5 has an incircle of 1, about its
  // centre of incircle; its centre of area is 0.8 from the longest side.
  CHECK(dish::narrow_half_width(dish::Hexagon{0.2}) == doctest::Approx(0.1));
  CHECK(dish::narrow_half_width(dish::Rectangle{0.2, 0.1}) == doctest::Approx(0.05));
  CHECK(dish::narrow_half_width(dish::Disc{0.3}) == doctest::Approx(0.15));
  CHECK(dish::narrow_half_width(dish::AnnularSector{0.2, 0.4, 3.0}) == doctest::Approx(0.1));
  CHECK(dish::narrow_half_width(dish::AnnularSector{0.2, 0.4, 0.2}) ==
        doctest::Approx(0.3 * std::sin(0.1)));
  CHECK(dish::narrow_half_width(dish::Polygon{{{0.0, 0.0}, {4.0, 0.0}, {0.0, 3.0}}}) ==
        doctest::Approx(0.8));
}
