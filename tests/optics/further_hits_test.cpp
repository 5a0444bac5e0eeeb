// Light that meets a second mirror: how many watts the books leave out.
#include "optics/further_hits.h"

#include "light_scenes.h"
#include "optics/trace.h"
#include "support/demo_dishes.h"
#include "support/figures.h"

#include <doctest/doctest.h>

#include "optics/light_scenes.h"

namespace {}  // namespace

// Law: a corner of two square mirrors sends light back where it came from, so a receiver beside the
// sun's way sees nothing straight and everything after the second mirror.
TEST_CASE("light that comes to the receiver by a second mirror is counted") {
  dish::Dish dish = light_scenes::one_facet(dish::Rectangle{0.1, 0.1}, dish::Flat{}, {0, 0, 0},
                                            base::unit({1.0, 0.0, 1.0}));
  dish.sun.half_angle_rad = 0.0;
  dish.facet_types[0].reflectance = 0.8;
  // The first sends the sun along +x to the second, which sends it up along (-0.8, 0, 0.6) or so.
  dish.facets.push_back(dish.facets[0]);
  dish.facets[1].id = {"A2"};
  dish.facets[1].centre_m = {1.0, 0.0, 0.0};
  dish.facets[1].normal = base::unit({-1.0, 0.0, 0.5});
  const base::Vec3 up = base::reflect({1.0, 0.0, 0.0}, *dish.facets[1].normal);
  dish.receiver.centre_m = base::Vec3(1.0, 0.0, 0.0) + 1.5 * up;
  dish.receiver.lit_normal = -up;
  light_scenes::set_receiver_radius(dish, 0.2);
  const auto scene = light_scenes::scene_of(dish);
  const auto found = optics::follow_further(scene, 4096, 1);
  // Seen from +x the first is as wide as the square tilted by 45 degrees; all its light meets the
  // second, which is narrower from there: cos of its incidence over cos 45 of the first's width.
  const double first_W = 1000.0 * 0.01 * std::sqrt(0.5) * 0.8;
  CHECK(found.mirrored_W > 0.9 * first_W);
  CHECK(found.receiver_W == doctest::Approx(0.8 * found.mirrored_W).epsilon(0.02));
  CHECK(found.most_hits == 1);
  const auto traced = light_scenes::traced(dish, {.rays = 4096});
  CHECK(traced.ledger.blocking_W == doctest::Approx(found.stopped_W).epsilon(0.02));
}

TEST_CASE("what is stopped is what the trace books as stopped, and next to nothing of it arrives") {
  // A focus so near that steep neighbours block each other; a secondary half as wide as is needed.
  dish::Dish steep = light_scenes::lattice(3, true);
  steep.receiver.centre_m.z = 0.7;
  dish::Dish narrow = light_scenes::lattice_with_secondary(3);
  narrow.secondary->diameter_m *= 0.5;
  for (const dish::Dish& dish : {steep, narrow}) {
    const auto traced = light_scenes::traced(dish, {.rays = 40'000});
    const auto found = optics::follow_further(light_scenes::scene_of(dish), 40'000, 1);
    const double booked = traced.ledger.blocking_W + traced.ledger.secondary_missed_W;
    REQUIRE(booked > 0.01 * traced.power_receiver_W);
    CHECK(found.stopped_W == doctest::Approx(booked).epsilon(0.03));
    CHECK(found.receiver_W <= found.mirrored_W);
    CHECK(found.mirrored_W <= found.stopped_W);
    CHECK(found.receiver_W < 1e-3 * traced.power_receiver_W);
    MESSAGE("stopped " << found.stopped_W << " W, mirrored " << found.mirrored_W << " W, received "
                       << found.receiver_W << " W of " << traced.power_receiver_W);
  }
}

TEST_CASE("on the demo dishes a second mirror brings less than 0.1 % of the receiver's watts") {
  for (const dish::Dish& dish :
       {support::larch_refuge(), support::kiln_yard(), support::orchard_dryer()}) {
    const auto traced = light_scenes::traced(dish, {.rays = 20'000});
    const auto found = optics::follow_further(light_scenes::scene_of(dish), 40'000, 1);
    CHECK(found.receiver_W < 1e-3 * traced.power_receiver_W);
    MESSAGE(dish.name << ": stopped " << found.stopped_W << " W, mirrored " << found.mirrored_W
                      << " W, received " << found.receiver_W << " W of "
                      << traced.power_receiver_W);
  }
}
