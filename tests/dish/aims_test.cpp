// Patterns of aims: closed forms, who gets which point, and edits.
#include "dish/aims.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "dish/checks.h"
#include "dish/defaults.h"
#include "dish/edit.h"
#include "support/figures.h"
#include "support/says.h"

namespace {

using base::Vec2;

/// Aims along the dish's x and y: the default receiver faces the dish, so right is -x.
std::vector<Vec2> sunward(std::vector<Vec2> aims) {
  for (Vec2& aim : aims) aim.x = -aim.x;
  return aims;
}

}  // namespace

// Source: derived (uniform disc of aims, Gaussian spots, continuous limit):
// 2 (s/R)^2 (1 - exp(-R^2/2s^2)); table as worked beforehand. Tolerance: half its last digit.
TEST_CASE("spread aims flatten the peak as the closed form says") {
  struct Row {
    double ratio, peak;
  };
  for (const Row& row : {Row{0.0, 1.0}, {1.0, 0.787}, {1.5, 0.600}, {2.0, 0.432}, {3.0, 0.220}}) {
    CAPTURE(row.ratio);
    CHECK(std::abs(dish::peak_ratio(row.ratio * 0.01, 0.01) - row.peak) < 0.0005);
  }
  // Next to nothing the series takes over without a step.
  CHECK(dish::peak_ratio(4.4e-5, 0.01) == doctest::Approx(1.0 - 0.25 * 4.4e-3 * 4.4e-3));
  CHECK(std::abs(dish::peak_ratio(4.4721e-5, 0.01) - dish::peak_ratio(4.4722e-5, 0.01)) < 1e-8);
  CHECK(dish::most_aim_radius_m(0.1, 0.02) == doctest::Approx(0.05));
  CHECK(dish::most_aim_radius_m(0.04, 0.02) == 0.0);
  support::record_figure("dish/peak_ratio_at_1.5_sigma", dish::peak_ratio(0.015, 0.01));
}

// The sum of Gaussians over the points themselves against the continuous closed form: with 300
// points it is that integral's sum, so it agrees to the share of one point, about 1 %.
TEST_CASE("sunflower points are spread evenly over the disc") {
  dish::Dish dish = dish::default_dish();
  const dish::Facet facet = dish.facets[0];
  dish.facets.assign(300, facet);
  for (std::size_t i = 0; i < 300; ++i) dish.facets[i].centre_m.x = 1e-3 * static_cast<double>(i);
  const auto aims = dish::aims_of(dish, dish::DiscAims{0.02});
  double sum = 0.0;
  double most = 0.0;
  Vec2 mean{0.0, 0.0};
  for (const Vec2& aim : aims) {
    sum += std::exp(-glm::dot(aim, aim) / (2.0 * 0.01 * 0.01));
    most = std::max(most, glm::length(aim));
    mean += aim / 300.0;
  }
  CHECK(most < 0.02);
  CHECK(most > 0.0199);
  CHECK(glm::length(mean) < 2e-4);
  CHECK(sum / 300.0 == doctest::Approx(dish::peak_ratio(0.02, 0.01)).epsilon(0.01));
}

TEST_CASE("every facet gets its own point, inner facets inner ones, around like their points") {
  const dish::Dish dish = dish::default_dish();
  const auto aims = sunward(dish::aims_of(dish, dish::DiscAims{0.03}));
  REQUIRE(aims.size() == dish.facets.size());
  std::set<double> radii;
  for (const Vec2& aim : aims) radii.insert(std::round(glm::length(aim) * 1e9));
  CHECK(radii.size() == aims.size());
  for (std::size_t i = 0; i < aims.size(); ++i) {
    const Vec2 place{dish.facets[i].centre_m.x, dish.facets[i].centre_m.y};
    CHECK_MESSAGE(glm::dot(place, aims[i]) > 0.0, dish.facets[i].id.text);
    for (std::size_t j = 0; j < aims.size(); ++j) {
      const Vec2 other{dish.facets[j].centre_m.x, dish.facets[j].centre_m.y};
      if (glm::length(other) > glm::length(place) + 1e-6)
        CHECK(glm::length(aims[j]) > glm::length(aims[i]));
    }
  }
}

TEST_CASE("scaled aims are a small copy of the dish, and a single aim is for all") {
  const dish::Dish dish = dish::default_dish();
  const auto aims = sunward(dish::aims_of(dish, dish::ScaledAims{0.012}));
  double most = 0.0;
  for (const dish::Facet& facet : dish.facets) {
    most = std::max(most, std::hypot(facet.centre_m.x, facet.centre_m.y));
  }
  for (std::size_t i = 0; i < aims.size(); ++i) {
    const Vec2 place{dish.facets[i].centre_m.x, dish.facets[i].centre_m.y};
    CHECK(glm::distance(aims[i], place * (0.012 / most)) < 1e-15);
  }
  for (const Vec2& aim : dish::aims_of(dish, dish::SingleAim{{0.01, -0.02}})) {
    CHECK(aim == Vec2{0.01, -0.02});
  }
}

TEST_CASE("all aims are one edit") {
  const dish::Dish before = dish::default_dish();
  const auto after = dish::apply(before, dish::edit::SetAims{dish::DiscAims{0.02}});
  REQUIRE(after.ok());
  CHECK(dish::errors_of(after.value()).empty());
  const auto aims = dish::aims_of(before, dish::DiscAims{0.02});
  for (std::size_t i = 0; i < aims.size(); ++i) CHECK(after.value().facets[i].aim_m == aims[i]);
  CHECK(dish::title_of(dish::edit::SetAims{}) == "Aim all facets");
  const auto refused = dish::apply(before, dish::edit::SetAims{dish::ScaledAims{-1.0}});
  REQUIRE(!refused.ok());
  CHECK(support::says(base::to_text(refused.problems()), "radius_mm"));
}

TEST_CASE("leans and heights are entered by facet") {
  namespace edit = dish::edit;
  const dish::Dish start = dish::default_dish();
  const dish::FacetId facet = start.facets[3].id;
  const auto with = [](const dish::Dish& dish, const dish::Edit& wish) {
    auto result = dish::apply(dish, wish);
    if (!result.ok()) FAIL(base::to_text(result.problems()));
    CHECK(dish::errors_of(result.value()).empty());
    return std::move(result).value();
  };
  dish::Dish dish = with(start, edit::AddRound{{.name = "level", .elevation_rad = 1.2}});
  dish = with(dish, edit::SetLeans{0, facet, {{{}, 0.0, 0.01, {}, {}}, {{}, 1.5, -0.02, {}, {}}}});
  CHECK(dish.rounds[0].leans.size() == 2);
  CHECK(dish.rounds[0].leans[1].facet == facet);
  dish = with(dish, edit::SetLeans{0, facet, {{{}, 0.1, 0.01, 0.005, 1e-4}}});
  CHECK(dish.rounds[0].leans.size() == 1);
  dish = with(dish, edit::SetHeights{0, facet, {{{}, {0.1, 0.0}, 0.03, {}}}});
  CHECK(dish.rounds[0].heights.size() == 1);
  CHECK(with(dish, edit::RemoveFacet{facet}).rounds[0].leans.empty());
  CHECK(with(dish, edit::RemoveFacet{facet}).rounds[0].heights.empty());
  CHECK(with(dish, edit::SetHeights{0, facet, {}}).rounds[0].heights.empty());
  CHECK(dish::title_of(edit::SetLeans{0, facet, {}}) == "Enter the leans of facet " + facet.text);
  const auto refusal = [&](const dish::Edit& wish) {
    const auto result = dish::apply(dish, wish);
    REQUIRE(!result.ok());
    return base::to_text(result.problems());
  };
  CHECK(support::says(refusal(edit::SetLeans{0, {"Q"}, {}}), "facet \"Q\""));
  CHECK(support::says(refusal(edit::SetLeans{3, facet, {}}), "round"));
  CHECK(support::says(refusal(edit::SetHeights{0, facet, {{{}, {0.0, 0.0}, 99.0, {}}}}),
                      "height_mm"));
  CHECK(support::says(refusal(edit::AddRound{{.name = "x", .leans = {{facet, 0.0, 0.0, {}, {}}}}}),
                      "elevation_deg"));
}
