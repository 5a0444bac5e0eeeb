// Dishes at the edge of sense: the quick evaluation gives finite figures or a problem, never NaN.
#include <cmath>

#include "light_scenes.h"
#include "optics/live.h"
#include "support/speed_scenes.h"

#include <doctest/doctest.h>

namespace {

using base::Vec3;
using support::SpeedScene;

bool is_finite(const base::Vec2& v) { return std::isfinite(v.x) && std::isfinite(v.y); }

bool is_finite(const optics::LiveState& state) {
  const optics::TraceResult& f = state.figures;
  bool all = std::isfinite(f.power_receiver_W) && std::isfinite(f.peak_W_m2) &&
             std::isfinite(f.intercept_factor) && std::isfinite(f.ledger.gaps_W) &&
             is_finite(f.centroid_m) && is_finite(f.rms_m);
  for (const double radius : f.radius_m) all = all && std::isfinite(radius);
  for (const double flux : f.map.flux_W_m2) all = all && std::isfinite(flux);
  for (const optics::FacetSpot& spot : state.spots) {
    all = all && std::isfinite(spot.receiver_W) && is_finite(spot.centroid_m) &&
          is_finite(spot.chief_m) && std::isfinite(spot.covariance_m2[0]);
    for (const Vec3& point : spot.chief_path) all = all && std::isfinite(glm::length(point));
  }
  return all;
}

/// Finite, or a problem.
bool is_sane(const dish::Dish& dish) {
  const auto state = optics::evaluate(dish, {});
  return state.ok() ? is_finite(state.value()) : !state.problems().empty();
}

std::vector<dish::Dish> dishes() {
  return {support::speed_scene(SpeedScene::dish, 19),
          support::speed_scene(SpeedScene::two_mirror, 19),
          support::speed_scene(SpeedScene::flat_frame, 19, {.is_flat = true})};
}

}  // namespace

TEST_CASE("a point sun on perfect mirrors has a finite spot with all its light") {
  for (dish::Dish dish : dishes()) {
    dish.sun.half_angle_rad = 0.0;
    for (auto& type : dish.facet_types) {
      type.slope_error_rad = 0.0;
      type.specularity_error_rad = 0.0;
    }
    const auto state = optics::evaluate(dish, {});
    REQUIRE(state.ok());
    CHECK(is_finite(state.value()));
    const auto& figures = state.value().figures;
    double map_W = 0.0;
    for (const double flux : figures.map.flux_W_m2) map_W += flux;
    const double cell = figures.map.size_m.x / figures.map.columns;
    CHECK(figures.power_plane_W > 0.0);
    CHECK(map_W * cell * cell <= figures.power_plane_W * (1.0 + 1e-6));
  }
}

// All rays of a perfect paraboloid meet in one point, but the sun's image grows toward its rim.
TEST_CASE("one facet as wide as a whole dish has the light of the trace") {
  for (const double rim_deg : {15.0, 30.0, 45.0, 60.0}) {
    CAPTURE(rim_deg);
    const dish::Dish dish = light_scenes::whole_paraboloid(rim_deg, 0.006);
    const auto quick = optics::evaluate(dish, {});
    REQUIRE(quick.ok());
    const auto full = light_scenes::traced(dish, {.rays = 500'000});
    CHECK(std::abs(quick.value().figures.intercept_factor - full.intercept_factor) < 1e-3);
    CHECK(std::abs(quick.value().figures.rms_m.x / full.rms_m.x - 1.0) < 5e-3);
  }
}

TEST_CASE("absurd errors, suns and sizes stay finite") {
  for (const dish::Dish& dish : dishes()) {
    dish::Dish rough = dish;
    for (auto& type : rough.facet_types) type.slope_error_rad = 0.3;
    CHECK(is_sane(rough));
    dish::Dish wide = dish;
    wide.sun.half_angle_rad = 0.2;
    CHECK(is_sane(wide));
    dish::Dish dark = dish;
    dark.sun.dni_W_m2 = 0.0;
    CHECK(is_sane(dark));
    dish::Dish tiny = dish;
    tiny.receiver.shape = dish::DiscReceiver{1e-5};
    CHECK(is_sane(tiny));
    dish::Dish huge = dish;
    huge.receiver.shape = dish::RectangleReceiver{50.0, 0.001};
    CHECK(is_sane(huge));
  }
}

TEST_CASE("a receiver edge-on or turned away stays finite or is a problem") {
  for (const dish::Dish& dish : dishes()) {
    for (const Vec3& normal : {Vec3(1.0, 0.0, 0.0), Vec3(1.0, 0.0, -1e-6), Vec3(0.0, 1.0, 1e-9),
                               Vec3(0.0, 0.0, 1.0), Vec3(0.0, 0.0, -1.0)}) {
      dish::Dish turned = dish;
      turned.receiver.lit_normal = normal;
      CHECK(is_sane(turned));
    }
  }
}

TEST_CASE("a facet dragged to where it cannot be says so, and comes back") {
  for (const dish::Dish& dish : dishes()) {
    auto state = optics::evaluate(dish, {}).value();
    const double power = state.figures.power_receiver_W;
    dish::Dish moved = dish;
    moved.facets[5].normal = Vec3(0.0, 0.0, -1.0);
    const auto away = optics::reevaluate(state, moved, 5);
    REQUIRE_FALSE(away.ok());
    CHECK(away.problems()[0].place == "facets/F6");
    moved.facets[5].normal = base::unit(Vec3(0.6, 0.1, 0.5));
    const auto aside = optics::reevaluate(state, moved, 5);
    REQUIRE(aside.ok());
    CHECK(is_finite(aside.value()));
    CHECK(aside.value().figures.power_receiver_W < power);
    // The state it started from is untouched.
    CHECK(state.figures.power_receiver_W == power);
    const auto back = optics::reevaluate(aside.value(), dish, 5);
    REQUIRE(back.ok());
    CHECK(back.value().figures.map.flux_W_m2 == state.figures.map.flux_W_m2);
    CHECK(back.value().figures.power_receiver_W == power);
  }
}

TEST_CASE("ten thousand facets are lit, and one moves") {
  dish::Dish dish = support::speed_scene(SpeedScene::dish, 10000);
  auto made = optics::evaluate(dish, {});
  REQUIRE(made.ok());
  auto state = std::move(made).value();
  CHECK(is_finite(state));
  dish.facets[777].centre_m.z += 0.01;
  const auto moved = optics::reevaluate(std::move(state), dish, 777);
  REQUIRE(moved.ok());
  CHECK(is_finite(moved.value()));
}

TEST_CASE("a dragged facet leaves the map to the last bit as a new evaluation makes it") {
  for (const auto scene : {SpeedScene::dish, SpeedScene::flat_frame, SpeedScene::two_mirror}) {
    dish::Dish dish = support::speed_scene(scene, 61);
    auto state = optics::evaluate(dish, {}).value();
    for (int step = 0; step < 12; ++step) {
      const std::size_t facet = step < 6 ? 7 : 40;
      const double size = 1e-3 * (1 + step % 5);
      dish.facets[facet].normal = base::unit(Vec3(size, -0.3 * size * step, 1.0));
      dish.facets[facet].centre_m.z += 2e-3;
      state = optics::reevaluate(std::move(state), dish, facet).value();
    }
    const auto anew = optics::evaluate(dish, {}).value();
    CHECK(state.figures.map.flux_W_m2 == anew.figures.map.flux_W_m2);
    CHECK(state.figures.power_receiver_W == anew.figures.power_receiver_W);
    CHECK(state.figures.centroid_m == anew.figures.centroid_m);
    CHECK(state.figures.radius_m == anew.figures.radius_m);
    CHECK(state.figures.peak_W_m2 == anew.figures.peak_W_m2);
    CHECK(state.figures.ledger.blocking_W == anew.figures.ledger.blocking_W);
  }
}
