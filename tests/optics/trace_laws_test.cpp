// Laws that every trace keeps, whatever the dish.
#include <cmath>
#include <cstring>

#include "base/sobol.h"
#include "base/units.h"
#include "light_scenes.h"
#include "optics/canting.h"
#include "optics/light_scenes.h"
#include "optics/path.h"
#include "optics/trace_part.h"
#include "references/optics/concentrators.h"
#include "support/demo_dishes.h"
#include "support/figures.h"

#include <doctest/doctest.h>

namespace {

using base::Vec2;
using base::Vec3;
using light_scenes::traced;

std::vector<dish::Dish> law_scenes() {
  return {light_scenes::whole_paraboloid(45, 0.004),
          light_scenes::faceted_dish(true, 0.05),
          light_scenes::lattice(2, false),
          light_scenes::lattice(2, true),
          light_scenes::lattice_with_secondary(2),
          support::larch_refuge(),
          support::kiln_yard(),
          support::orchard_dryer()};
}

double accounts_sum(const optics::Ledger& l) {
  return l.cosine_W + l.gaps_W + l.shading_W + l.facet_absorption_W + l.blocking_W +
         l.secondary_missed_W + l.secondary_absorption_W + l.spillage_W + l.receiver_reflection_W +
         l.receiver_absorbed_W;
}

bool has_same_bits(double a, double b) { return std::memcmp(&a, &b, sizeof a) == 0; }

void check_same(const optics::TraceResult& a, const optics::TraceResult& b) {
  CHECK(has_same_bits(a.power_receiver_W, b.power_receiver_W));
  CHECK(has_same_bits(a.standard_error_W, b.standard_error_W));
  CHECK(has_same_bits(a.ledger.spillage_W, b.ledger.spillage_W));
  CHECK(has_same_bits(a.ledger.shading_W, b.ledger.shading_W));
  CHECK(has_same_bits(a.ledger.blocking_W, b.ledger.blocking_W));
  CHECK(has_same_bits(a.centroid_m.x, b.centroid_m.x));
  CHECK(has_same_bits(a.rms_m.y, b.rms_m.y));
  CHECK(has_same_bits(a.peak_W_m2, b.peak_W_m2));
  CHECK(has_same_bits(a.radius_m[1], b.radius_m[1]));
  CHECK(a.map.flux_W_m2 == b.map.flux_W_m2);
  REQUIRE(a.facets.size() == b.facets.size());
  for (std::size_t k = 0; k < a.facets.size(); ++k) {
    CHECK(has_same_bits(a.facets[k].power_W, b.facets[k].power_W));
  }
}

}  // namespace

TEST_CASE("reflection keeps the angle, lies in the plane of incidence and undoes itself") {
  base::Sobol points(2, 0, 0, 0);
  for (int n = 0; n < 256; ++n) {
    double x[6];
    points.next(x, 6);
    const Vec3 normal = base::unit(Vec3(x[0], x[1], x[2]) - 0.5);
    const Vec3 ray = base::unit(Vec3(x[3], x[4], x[5]) - 0.5);
    const Vec3 out = base::reflect(ray, normal);
    CHECK(std::abs(glm::dot(out, normal) + glm::dot(ray, normal)) < 4e-15);
    CHECK(std::abs(glm::dot(out, glm::cross(ray, normal))) < 4e-15);
    CHECK(glm::length(base::reflect(out, normal) - ray) < 4e-15);
  }
}

TEST_CASE("a small turn keeps a unit vector and turns it by the angle") {
  for (const Vec3 n : {Vec3(0, 0, 1), Vec3(0, 0, -1), base::unit({0.3, -0.5, -0.8})}) {
    const Vec3 turned = optics::tilted(n, {0.003, -0.004});
    CHECK(std::abs(glm::length(turned) - 1.0) < 1e-15);
    CHECK(std::atan2(glm::length(glm::cross(n, turned)), glm::dot(n, turned)) ==
          doctest::Approx(std::atan(0.005)).epsilon(1e-12));
  }
}

TEST_CASE("light along the axis of a paraboloid meets in its focus") {
  const optics::Scene scene = light_scenes::scene_of(light_scenes::whole_paraboloid(80, 0.01));
  base::Sobol points(4, 0, 0, 0);
  for (int n = 0; n < 512; ++n) {
    double x[2];
    points.next(x, 2);
    const auto start =
        optics::facet_point(scene, scene.facets[0], optics::sample(scene.edges[0], x[0], x[1]));
    const auto path = optics::follow(scene, scene.facets[0], start, scene.sun, {}, {});
    REQUIRE(path.end == optics::End::landed);
    CHECK(glm::length(path.board) < 1e-14);
  }
}

TEST_CASE("a plane wave on a two-mirror dish of paraboloid pieces meets in the far focus") {
  dish::Dish dish = light_scenes::lattice_with_secondary(2);
  for (auto& type : dish.facet_types) type.surface = dish::OffAxisParaboloid{2.0, {}, {}};
  const optics::Scene scene = light_scenes::scene_of(dish);
  for (const optics::SceneFacet& facet : scene.facets) {
    for (const Vec2 at : {Vec2(0.0, 0.0), Vec2(0.1, 0.05), Vec2(-0.08, 0.07)}) {
      const auto path = optics::follow(scene, facet, optics::facet_point(scene, facet, at),
                                       scene.sun, {}, {.shading = false, .blocking = false});
      REQUIRE(path.end == optics::End::landed);
      CHECK(glm::length(path.board) < 1e-12);
    }
  }
}

TEST_CASE("every watt is in one account") {
  for (const dish::Dish& dish : law_scenes()) {
    for (const Vec2 error : {Vec2(0.0, 0.0), Vec2(0.005, -0.008)}) {
      const auto result = traced(dish, {.rays = 30000, .tracking_error_rad = error});
      const optics::Ledger& l = result.ledger;
      CHECK(accounts_sum(l) == doctest::Approx(l.incident_W).epsilon(1e-12));
      CHECK(l.receiver_absorbed_W + l.receiver_reflection_W ==
            doctest::Approx(result.power_receiver_W).epsilon(1e-13));
      CHECK(result.power_plane_W >= result.power_receiver_W);
      double facets = 0.0;
      for (const auto& facet : result.facets) facets += facet.power_W;
      CHECK(facets == doctest::Approx(result.power_receiver_W).epsilon(1e-13));
      for (const double account :
           {l.shading_W, l.facet_absorption_W, l.blocking_W, l.secondary_missed_W,
            l.secondary_absorption_W, l.spillage_W, l.cosine_W}) {
        CHECK(account >= 0.0);
      }
    }
  }
}

TEST_CASE("the map holds what lands within it") {
  const dish::Dish dish = light_scenes::lattice(2, false);
  const auto result = traced(dish, {.rays = 50000, .map_cells = 64, .map_width_m = 2.0});
  double watts = 0.0;
  const double cell = result.map.size_m.x / result.map.columns;
  for (const double flux : result.map.flux_W_m2) watts += flux * cell * cell;
  CHECK(watts == doctest::Approx(result.power_plane_W).epsilon(1e-9));
}

TEST_CASE("the number of workers never changes a bit") {
  for (const dish::Dish& dish : {light_scenes::lattice(2, true), support::larch_refuge()}) {
    const auto one = traced(dish, {.rays = 200000, .seed = 5, .map_cells = 32});
    for (const int workers : {2, 3, 8}) {
      check_same(one,
                 traced(dish, {.rays = 200000, .seed = 5, .map_cells = 32, .workers = workers}));
    }
  }
}

TEST_CASE("parts traced anywhere in any order add up to the same bits") {
  const optics::Scene scene = light_scenes::scene_of(light_scenes::lattice_with_secondary(1));
  const optics::TraceSettings settings{.rays = 100000, .seed = 9, .map_cells = 32};
  const std::uint64_t chunks = optics::plan_trace(scene, settings).chunks();
  const auto whole =
      optics::merge_parts(scene, settings, {optics::trace_part(scene, settings, 0, chunks)});
  std::vector<optics::TracePart> parts;
  for (const auto& [first, count] :
       {std::pair<std::uint64_t, std::uint64_t>{50, chunks - 50}, {0, 7}, {7, 43}}) {
    parts.push_back(optics::trace_part(scene, settings, first, count));
  }
  check_same(whole, optics::merge_parts(scene, settings, parts));
}

TEST_CASE("the same seed gives the same bits, another seed agrees within its standard error") {
  const dish::Dish dish = light_scenes::lattice(2, false);
  const auto one = traced(dish, {.rays = 100000, .seed = 1});
  check_same(one, traced(dish, {.rays = 100000, .seed = 1}));
  const auto other = traced(dish, {.rays = 100000, .seed = 2});
  CHECK(one.power_receiver_W != other.power_receiver_W);
  CHECK(std::abs(one.power_receiver_W - other.power_receiver_W) <
        5.0 * std::hypot(one.standard_error_W, other.standard_error_W));
}

TEST_CASE("the standard error tells the spread between seeds") {
  dish::Dish dish = light_scenes::lattice(1, false);
  light_scenes::set_receiver_radius(dish, 0.012);
  double mean = 0.0;
  double square = 0.0;
  double told = 0.0;
  const int count = 40;
  for (int seed = 1; seed <= count; ++seed) {
    const auto result = traced(dish, {.rays = 6000, .seed = static_cast<std::uint64_t>(seed)});
    mean += result.power_receiver_W / count;
    square += result.power_receiver_W * result.power_receiver_W / count;
    told += result.standard_error_W * result.standard_error_W / count;
  }
  const double seen = std::sqrt((square - mean * mean) * count / (count - 1));
  CHECK(std::sqrt(told) / seen == doctest::Approx(1.0).epsilon(0.4));
}

TEST_CASE("one facet alone is that facet of the whole") {
  const dish::Dish dish = light_scenes::lattice(1, true);
  const auto alone = traced(dish, {.rays = 100000, .only_facet = 3});
  REQUIRE(alone.facets.size() == 1);
  CHECK(alone.facets[0].id == dish.facets[3].id);
  const auto whole = traced(dish, {.rays = 600000});
  CHECK(has_same_bits(alone.facets[0].power_W, whole.facets[3].power_W));
}

// The lists are conservative: with every facet listing every other nothing may change.
TEST_CASE("short lists of neighbours stop the same rays as all of them") {
  struct Case {
    dish::Dish dish;
    Vec2 sun;
  };
  dish::Dish petals = support::orchard_dryer();
  dish::Dish shaken = light_scenes::lattice(3, true);
  for (std::size_t k = 0; k < shaken.facets.size(); ++k) {
    const double a = 0.2 * std::sin(13.0 * static_cast<double>(k));
    const double b = 0.2 * std::cos(7.0 * static_cast<double>(k));
    shaken.facets[k].normal = base::unit({a, b, 1.0});
    shaken.facets[k].centre_m.z = 0.08 * std::sin(5.0 * static_cast<double>(k));
  }
  dish::Dish inside = light_scenes::lattice_with_secondary(2);
  inside.receiver.centre_m.z = -0.15;  // behind the facets: the last stretch crosses their layer
  inside.secondary->form = dish::HyperboloidSecondary{2.0, -0.1};
  const Case cases[] = {{light_scenes::lattice(3, false), {0, 0}},
                        {light_scenes::lattice(3, true), {0, 0}},
                        {light_scenes::lattice(3, true), {0.6, 0.3}},
                        {shaken, {0, 0}},
                        {shaken, {0.5, -0.2}},
                        {inside, {0.01, 0.0}},
                        {light_scenes::lattice_with_secondary(3), {0.1, 0.1}},
                        {petals, {0.4, 0.0}},
                        {support::larch_refuge(), {0.05, 0.3}},
                        {support::kiln_yard(), {0.3, 0.3}}};
  double blocked = 0.0;
  for (const Case& one : cases) {
    optics::Scene lists = light_scenes::scene_of(one.dish, {.tracking_error_rad = one.sun});
    optics::Scene all =
        light_scenes::scene_of(one.dish, {.tracking_error_rad = one.sun, .cull = false});
    CHECK(lists.candidates.size() < all.candidates.size());
    const optics::TraceSettings settings{.rays = 60000, .map_cells = 32};
    const auto a = optics::trace_scene(lists, settings);
    const auto b = optics::trace_scene(all, settings);
    REQUIRE(a.ok());
    REQUIRE(b.ok());
    check_same(a.value(), b.value());
    blocked += a.value().ledger.blocking_W;
  }
  CHECK(blocked > 100.0);  // the cases do have something to stop
}

TEST_CASE("no concentration beats the sun's own surface") {
  for (const double rim : {30.0, 45.0, 60.0, 75.0, 88.0}) {
    dish::Dish dish = light_scenes::whole_paraboloid(rim, 0.001);
    const auto result = traced(dish, {.rays = 60000});
    CHECK(result.mean_concentration <
          references::k_limit_4_65_mrad + 4.0 * result.standard_error_W / (base::k_pi * 1e-3));
    // The peak's own disc is a tenth of the receiver: here 2 mm in radius, some 1e4 rays.
    light_scenes::set_receiver_radius(dish, 0.02);
    CHECK(traced(dish, {.rays = 400000}).peak_concentration < 1.03 * references::k_limit_4_65_mrad);
  }
}

TEST_CASE("a perfect mirror catches DNI times its projected area, tilted or not") {
  for (const double tilt : {0.0, 0.3, 0.8}) {
    dish::Dish dish = light_scenes::one_facet(dish::Rectangle{0.2, 0.3}, dish::Spherical{1.5},
                                              {0, 0, 0}, {std::sin(tilt), 0.0, std::cos(tilt)});
    dish.receiver.centre_m = {2.0 * std::sin(2 * tilt), 0.0, 2.0 * std::cos(2 * tilt)};
    dish.receiver.lit_normal = -dish.receiver.centre_m;
    const auto result = traced(dish, {.rays = 65536});
    // The rim of a sphere is a level curve only at its corners, so the projected area of the glass
    // is not that of its plane outline: compare with the traced area, and at no tilt exactly.
    if (tilt == 0.0) CHECK(result.power_reflected_W == doctest::Approx(60.0).epsilon(1e-6));
    CHECK(result.power_reflected_W == doctest::Approx(60.0 * std::cos(tilt)).epsilon(2e-3));
  }
}

TEST_CASE("what is wrong with a scene is named at its place") {
  const auto place_of = [](const dish::Dish& dish) {
    const auto scene = optics::make_scene(dish, {});
    return scene ? std::string("nothing") : scene.problems()[0].place;
  };
  dish::Dish dish = light_scenes::lattice(1, false);
  CHECK(place_of(dish) == "nothing");
  dish.facets[2].normal = Vec3(0.0, 0.0, -1.0);
  CHECK(place_of(dish) == "facets/" + dish.facets[2].id.text);
  dish = light_scenes::lattice(1, false);
  dish.facets[2].type = {"none"};
  CHECK(place_of(dish) == "facets/" + dish.facets[2].id.text + "/type");
  dish = light_scenes::lattice(1, false);
  dish.facet_types[0].outline = dish::Hexagon{0.0};
  CHECK(place_of(dish) == "facet_types/" + dish.facet_types[0].name.text + "/outline");
  dish = light_scenes::lattice(1, false);
  dish.facet_types[0].surface = dish::Spherical{0.05};
  CHECK(place_of(dish) == "facet_types/" + dish.facet_types[0].name.text + "/surface");
  dish = light_scenes::lattice(1, false);
  dish.receiver.lit_normal = {0.0, 0.0, 1.0};
  CHECK(place_of(dish) == "receiver/lit_normal");
  light_scenes::set_receiver_radius(dish, 0.0);
  CHECK(place_of(dish) == "receiver/shape");
  dish = light_scenes::lattice_with_secondary(1);
  dish.secondary->tilt_rad = {1.56, 0.0};
  CHECK(place_of(dish) == "secondary/tilt_mrad");
  dish = light_scenes::lattice_with_secondary(1);
  dish.secondary->hole_diameter_m = 2.0;
  CHECK(place_of(dish) == "secondary/diameter_m");
  dish = light_scenes::lattice_with_secondary(1);
  dish.receiver.lit_normal = {0.0, 0.0, -1.0};
  CHECK(place_of(dish) == "receiver");
  dish.facets.clear();
  CHECK(place_of(dish) == "facets");
}

TEST_CASE("a trace can be stopped and tells how far it is") {
  base::Progress progress;
  int asked = 0;
  double last = 0.0;
  progress.is_cancelled = [&] { return ++asked > 20; };
  progress.report = [&](double done) {
    CHECK(done >= last);
    last = done;
  };
  const auto result = optics::trace(light_scenes::lattice(2, false), {.rays = 1000000}, progress);
  REQUIRE(!result.ok());
  CHECK(result.problems()[0].place == "cancelled");
  CHECK(last > 0.0);
  CHECK(last < 1.0);
}

TEST_CASE("figures are the same in every build") {
  const char* names[] = {"paraboloid", "flat_squares", "dish", "flat_frame",
                         "secondary",  "larch",        "kiln", "orchard"};
  const auto scenes = law_scenes();
  for (std::size_t k = 0; k < scenes.size(); ++k) {
    const auto result = traced(scenes[k], {.rays = 40000, .seed = 3});
    const std::string name = std::string("optics/") + names[k];
    support::record_figure(name + "/receiver_W", result.power_receiver_W);
    support::record_figure(name + "/peak_W_m2", result.peak_W_m2);
    support::record_figure(name + "/rms_right_m", result.rms_m.x);
    support::record_figure(name + "/radius_90_m", result.radius_m[1]);
  }
}
