// The budget against closed forms of what single errors cost, and its laws.
#include "optics/budget.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "dish/defaults.h"
#include "light_scenes.h"
#include "references/optics/encircled.h"
#include "support/figures.h"

#include <doctest/doctest.h>

namespace {

using optics::Budget;
using optics::Cause;
using optics::CauseCost;

constexpr std::uint64_t k_budget_rays = 131072;

Budget budget_of(const dish::Dish& dish, const optics::BudgetSettings& settings) {
  auto budget = optics::budget(dish, settings);
  if (!budget) FAIL(base::to_text(budget.problems()));
  return std::move(budget).value();
}

const CauseCost& cost_of(const Budget& budget, Cause cause) {
  return *std::find_if(budget.costs.begin(), budget.costs.end(),
                       [&](const CauseCost& cost) { return cost.cause == cause; });
}

/// A small mirror that faces its receiver at 1 m; aims by itself.
dish::Dish small_mirror(double receiver_radius_m) {
  dish::Dish dish = light_scenes::oblique_facet(dish::Disc{2e-6}, dish::Flat{}, 0.0, 1.0);
  dish.facets[0].normal.reset();
  dish.sun.half_angle_rad = 0.0;
  light_scenes::set_receiver_radius(dish, receiver_radius_m);
  return dish;
}

}  // namespace

// Source: 1 - exp(-a^2 / 2 sigma^2) (references/optics/encircled.h); a slope error counts twice.
// Tolerance: five standard errors, which the budget tells, and two rays of 1.3e5, since the copies
// may agree to the last one.
TEST_CASE("a slope or specularity error alone costs what passes the receiver's edge") {
  for (const auto& row : references::k_gaussian_disc) {
    const double ratio = row[0];
    const double share = row[1];
    CAPTURE(ratio);
    for (const bool is_slope : {true, false}) {
      dish::Dish dish = small_mirror(0.002 * ratio);
      (is_slope ? dish.facet_types[0].slope_error_rad : dish.facet_types[0].specularity_error_rad) =
          is_slope ? 0.001 : 0.002;
      const Budget budget = budget_of(dish, {.rays = k_budget_rays});
      const CauseCost& cost = cost_of(budget, is_slope ? Cause::slope : Cause::specularity);
      const double expected = (1.0 - share) * budget.perfect_W;
      CHECK(std::abs(cost.loss_W - expected) < 5.0 * cost.loss_error_W + 2e-5 * budget.perfect_W);
      CHECK(cost.loss_error_W < 1e-3 * budget.perfect_W);
      // Alone in the dish, so perfecting it gains what it costs.
      CHECK(cost.gain_W == doctest::Approx(cost.loss_W).epsilon(1e-9));
      CHECK(budget.together_W == doctest::Approx(cost.loss_W).epsilon(1e-9));
      CHECK(cost_of(budget, Cause::receiver_size).gain_W ==
            doctest::Approx(cost.loss_W).epsilon(1e-9));
    }
  }
}

// Source: non-central chi-square of two degrees of freedom (references/optics/encircled.h).
TEST_CASE("a blurred beam off the receiver's middle: pointing is worth what the table says") {
  for (const auto& [offset, ratio, share] : references::k_gaussian_offset) {
    dish::Dish dish = small_mirror(0.002 * ratio);
    dish.facet_types[0].specularity_error_rad = 0.002;
    // The mirror's tilt moves its light twice.
    dish.facets[0].normal = base::unit({std::tan(0.5 * std::atan(0.002 * offset)), 0.0, 1.0});
    const Budget budget = budget_of(dish, {.rays = k_budget_rays});
    const double centred = 1.0 - std::exp(-0.5 * ratio * ratio);
    const CauseCost& cost = cost_of(budget, Cause::adjustment);
    CHECK(cost.is_present);
    CHECK(std::abs(cost.gain_W / budget.perfect_W - (centred - share)) <
          5.0 * cost.gain_error_W / budget.perfect_W + 1e-5);
  }
}

// Source: Bendt & Rabl, SERI/TR-631-336 (1980); Rabl, Active Solar Collectors (1985): slope twice,
// specularity and tracking once, canting twice, the sun's disc half its radius per axis; variances
// add. Radial here, so sqrt 2 of the per-axis values where both axes spread. Tolerance 0.5 %:
// tangent against angle at 5 mrad, and 1.3e5 rays.
TEST_CASE("blur by cause, and in quadrature") {
  dish::Dish dish = small_mirror(0.05);
  dish.sun.half_angle_rad = 0.00465;
  dish.facet_types[0].slope_error_rad = 0.002;
  dish.facet_types[0].specularity_error_rad = 0.001;
  dish.facets[0].normal = base::unit({0.0015, 0.0, 1.0});
  const Budget budget =
      budget_of(dish, {.rays = k_budget_rays, .tracking_error_rad = {0.0, 0.001}});
  const auto blur = [&](Cause cause) { return 1e3 * cost_of(budget, cause).blur_rad; };
  const double both = std::sqrt(2.0);
  CHECK(budget.mean_way_m == doctest::Approx(1.0).epsilon(1e-12));
  CHECK(blur(Cause::slope) == doctest::Approx(both * 4.0).epsilon(0.005));
  CHECK(blur(Cause::specularity) == doctest::Approx(both * 1.0).epsilon(0.005));
  CHECK(blur(Cause::sun_size) == doctest::Approx(both * 2.325).epsilon(0.005));
  CHECK(blur(Cause::tracking) == doctest::Approx(1.0).epsilon(0.005));
  CHECK(blur(Cause::adjustment) == doctest::Approx(3.0).epsilon(0.005));
  // 2 (16 + 1 + 2.325^2) + 1 + 9.
  const double whole = std::sqrt(2.0 * (16.0 + 1.0 + 2.325 * 2.325) + 1.0 + 9.0);
  CHECK(1e3 * budget.quadrature_radius_m == doctest::Approx(whole).epsilon(0.005));
  CHECK(budget.rms_radius_m == doctest::Approx(budget.quadrature_radius_m).epsilon(0.005));
}

TEST_CASE("reflectance and shadows cost their watts exactly") {
  dish::Dish dish = small_mirror(0.05);
  dish.facet_types[0].reflectance = 0.8;
  const Budget budget = budget_of(dish, {.rays = 4096});
  const CauseCost& cost = cost_of(budget, Cause::reflectance);
  CHECK(cost.gain_W == doctest::Approx(0.25 * budget.as_is_W).epsilon(1e-12));
  CHECK(cost.loss_W == doctest::Approx(0.2 * budget.perfect_W).epsilon(1e-12));
  CHECK(cost.gain_error_W < 1e-9 * budget.as_is_W);

  // A square blocker over a quarter of a square facet, seen by a sun without size.
  dish::Dish shaded =
      light_scenes::oblique_facet(dish::Rectangle{0.2, 0.2}, dish::Flat{}, 0.0, 1.0);
  shaded.facets[0].normal.reset();
  shaded.sun.half_angle_rad = 0.0;
  light_scenes::set_receiver_radius(shaded, 0.5);
  shaded.blockers.push_back({"lid", dish::BoxBlocker{.centre_m = {0.05, 0.05, 2.0}}});
  const Budget dark = budget_of(shaded, {.rays = 65536});
  CHECK(cost_of(dark, Cause::shading).gain_W == doctest::Approx(dark.as_is_W / 3.0).epsilon(2e-3));
  CHECK(cost_of(dark, Cause::blocking).gain_W == 0.0);
}

TEST_CASE("dirt is told apart from what clean mirrors absorb") {
  dish::Dish dish = small_mirror(0.05);
  dish.facet_types[0].reflectance = 0.8;
  dish.facet_types[0].cleanliness = 0.9;
  const Budget budget = budget_of(dish, {.rays = 4096});
  CHECK(cost_of(budget, Cause::soiling).gain_W ==
        doctest::Approx(budget.as_is_W / 9.0).epsilon(1e-9));
  CHECK(cost_of(budget, Cause::soiling).loss_W ==
        doctest::Approx(0.1 * budget.perfect_W).epsilon(1e-9));
  CHECK(cost_of(budget, Cause::reflectance).gain_W ==
        doctest::Approx(0.25 * budget.as_is_W).epsilon(1e-9));
  // A computed coating counts as its reflectance does.
  dish.facet_types[0].coating = dish::Coating{};
  const Budget coated = budget_of(dish, {.rays = 4096});
  CHECK(cost_of(coated, Cause::reflectance).is_present);
  CHECK(cost_of(coated, Cause::reflectance).gain_W > 0.01 * coated.as_is_W);
}

TEST_CASE("what stands behind the secondary's light is blocking, not shading") {
  dish::Dish dish = light_scenes::lattice_with_secondary(2);
  light_scenes::set_receiver_radius(dish, 0.3);
  const Budget clear = budget_of(dish, {.rays = 40'000});
  dish.blockers.push_back(
      {"plate", dish::DiscBlocker{.centre_m = {0.0, 0.0, 0.45}, .diameter_m = 0.16}});
  const Budget budget = budget_of(dish, {.rays = 40'000});
  const CauseCost& cost = cost_of(budget, Cause::blocking);
  CHECK(cost.gain_W > 0.2 * clear.as_is_W);
  // Without anything in the way both dishes take the same.
  CHECK(budget.as_is_W + cost.gain_W ==
        doctest::Approx(clear.as_is_W + cost_of(clear, Cause::blocking).gain_W).epsilon(0.01));
  CHECK(cost_of(budget, Cause::shading).gain_W < 0.2 * clear.as_is_W);
}

TEST_CASE("surfaces and secondary errors have their own rows") {
  dish::Dish dish = light_scenes::lattice_with_secondary(2);
  for (dish::FacetType& type : dish.facet_types) type.surface = dish::Flat{};
  dish.secondary->slope_error_rad = 0.004;
  const Budget budget = budget_of(dish, {.rays = 40'000});
  CHECK(cost_of(budget, Cause::surface).gain_W > 0.05 * budget.as_is_W);
  CHECK(cost_of(budget, Cause::surface).blur_m > 0.02);
  CHECK(cost_of(budget, Cause::secondary).is_present);
  // The secondary's rays travel 1.3 m after it: radial rms of 2 * 4 mrad on both axes.
  CHECK(cost_of(budget, Cause::secondary).blur_m ==
        doctest::Approx(std::sqrt(2.0) * 0.008 * 1.3).epsilon(0.05));
}

TEST_CASE("the aureole of the sun is told apart from its disc") {
  dish::Dish dish = small_mirror(0.006);
  dish.sun.half_angle_rad = 0.00465;
  dish.sun.shape = dish::CircumsolarSun{.ratio = 0.2};
  const Budget budget = budget_of(dish, {.rays = k_budget_rays});
  const CauseCost& aureole = cost_of(budget, Cause::circumsolar);
  // A fifth of the light lies beyond the disc's 4.65 mm, some of it still within 6 mm.
  CHECK(aureole.gain_W < 0.2 * budget.perfect_W);
  CHECK(aureole.gain_W > 0.05 * budget.perfect_W);
  CHECK(aureole.loss_W == doctest::Approx(aureole.gain_W).epsilon(0.02));
  CHECK(cost_of(budget, Cause::sun_size).gain_W == doctest::Approx(aureole.gain_W).epsilon(0.02));
}

TEST_CASE("form errors of facets are a cause of their own") {
  dish::Dish dish = light_scenes::lattice(1, false);
  light_scenes::set_receiver_radius(dish, 0.02);
  for (dish::FacetType& type : dish.facet_types) type.form_error.astigmatism_0_m = 4e-4;
  const Budget budget = budget_of(dish, {.rays = 20'000});
  const CauseCost& form = cost_of(budget, Cause::form);
  CHECK(form.is_present);
  CHECK(form.blur_m > 0.01);
  CHECK(form.gain_W > 5.0 * form.gain_error_W);
}

TEST_CASE("differences have far less noise than the traces they are made of") {
  dish::Dish dish = dish::default_dish();
  light_scenes::set_receiver_radius(dish, 0.02);
  dish.facet_types[0].specularity_error_rad = 0.0002;
  const Budget budget = budget_of(dish, {.rays = 20'000});
  const CauseCost& cost = cost_of(budget, Cause::specularity);
  const Budget other = budget_of(dish, {.rays = 20'000, .seed = 99});
  // Another seed agrees within the errors that both tell.
  const CauseCost& again = cost_of(other, Cause::specularity);
  CHECK(std::abs(cost.gain_W - again.gain_W) <
        5.0 * std::hypot(cost.gain_error_W, again.gain_error_W));
  CHECK(cost.gain_error_W < budget.as_is_error_W);
}

TEST_CASE("ranked by gain: first what can be changed, then the sun, then what is not there") {
  const Budget budget = budget_of(light_scenes::lattice(2, false), {.rays = 20'000});
  REQUIRE(budget.costs.size() == optics::k_causes);
  int group = 0;
  double last = 0.0;
  for (const CauseCost& cost : budget.costs) {
    const int own = !cost.is_present ? 2 : optics::remedy_of(cost.cause) == optics::Remedy::none;
    CHECK(own >= group);
    if (own == group && group < 2 && &cost != &budget.costs[0]) CHECK(cost.gain_W <= last);
    group = own;
    last = cost.gain_W;
    if (!cost.is_present) CHECK(cost.gain_W == 0.0);
  }
  REQUIRE(!budget.advice.empty());
  CHECK(budget.advice[0].find(" W more") != std::string::npos);
  support::record_figure("optics/budget/as_is_W", budget.as_is_W);
  support::record_figure("optics/budget/slope_gain_W", cost_of(budget, Cause::slope).gain_W);
}

TEST_CASE("workers never change a bit, and a budget can be stopped") {
  const dish::Dish dish = light_scenes::lattice(1, true);
  const Budget one = budget_of(dish, {.rays = 10'000, .workers = 1});
  const Budget three = budget_of(dish, {.rays = 10'000, .workers = 3});
  for (std::size_t k = 0; k < one.costs.size(); ++k) {
    CHECK(one.costs[k].gain_W == three.costs[k].gain_W);
    CHECK(one.costs[k].loss_error_W == three.costs[k].loss_error_W);
  }
  double furthest = 0.0;
  const auto stopped =
      optics::budget(dish, {.rays = 100'000},
                     {.report = [&](double done) { furthest = std::max(furthest, done); },
                      .is_cancelled = [&] { return furthest > 0.3; }});
  REQUIRE(!stopped.ok());
  CHECK(stopped.problems()[0].place == "cancelled");
  CHECK(furthest < 0.6);
}

TEST_CASE("bad dishes are named: nothing hangs and nothing is a NaN") {
  CHECK(optics::budget({}, {}).problems()[0].place == "facets");
  dish::Dish away = light_scenes::lattice(1, false);
  away.receiver.lit_normal = {0.0, 0.0, 1.0};
  CHECK(optics::budget(away, {}).problems()[0].place == "receiver/lit_normal");
  dish::Dish facing = light_scenes::lattice(1, false);
  facing.facets[0].normal = base::Vec3(0.0, 0.0, -1.0);
  CHECK(!optics::budget(facing, {}).ok());
  // A receiver edge-on to the light, and errors beyond sense: dark, said, finite.
  dish::Dish dark = light_scenes::lattice(1, false);
  dark.receiver.lit_normal = {1.0, 0.0, 0.0};
  dark.facet_types[0].slope_error_rad = 0.5;
  const auto budget = optics::budget(dark, {.rays = 5'000});
  if (budget) {
    for (const CauseCost& cost : budget.value().costs) {
      CHECK(std::isfinite(cost.gain_W));
      CHECK(std::isfinite(cost.blur_m));
    }
    CHECK(!budget.value().advice.empty());
  }
}
