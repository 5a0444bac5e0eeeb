// A scene after one facet moved is the scene a new dish would make.
#include <random>

#include "optics/canting.h"
#include "optics/scene.h"
#include "support/speed_scenes.h"

#include <doctest/doctest.h>

namespace {

using base::Vec3;
using support::SpeedScene;

std::vector<std::uint32_t> list_of(const optics::Scene& scene, const optics::Span& span) {
  const auto first = scene.candidates.begin() + span.first;
  return {first, first + span.count};
}

void check_same(const optics::Scene& a, const optics::Scene& b) {
  REQUIRE(a.facets.size() == b.facets.size());
  int other_lists = 0;
  int other_poses = 0;
  for (std::size_t k = 0; k < a.facets.size(); ++k) {
    const auto& one = a.facets[k];
    const auto& two = b.facets[k];
    other_lists += list_of(a, one.shaders) != list_of(b, two.shaders) ? 1 : 0;
    other_lists += list_of(a, one.blockers) != list_of(b, two.blockers) ? 1 : 0;
    other_poses += one.bounds.centre != two.bounds.centre || one.bounds.radius != two.bounds.radius;
    other_poses += one.dish_from_facet.axes != two.dish_from_facet.axes ? 1 : 0;
  }
  CHECK(other_lists == 0);
  CHECK(other_poses == 0);
  CHECK(a.mirror_area_m2 == b.mirror_area_m2);
  CHECK(a.gross_aperture_m2 == doctest::Approx(b.gross_aperture_m2).epsilon(1e-14));
}

/// Lists that changed, in all.
std::size_t lists_that_hold(const optics::Scene& scene, std::uint32_t facet) {
  std::size_t count = 0;
  for (const auto& one : scene.facets) {
    for (const auto& span : {one.shaders, one.blockers}) {
      for (const std::uint32_t code : list_of(scene, span)) count += code == facet ? 1 : 0;
    }
  }
  return count;
}

}  // namespace

TEST_CASE("a facet that moves leaves the scene a new one would be") {
  for (const SpeedScene kind : {SpeedScene::dish, SpeedScene::flat_frame, SpeedScene::two_mirror}) {
    for (const std::size_t facets : {std::size_t{37}, std::size_t{300}}) {
      dish::Dish dish = support::speed_scene(kind, facets);
      auto scene = optics::make_scene(dish, {}).value();
      std::mt19937 random(7);
      std::uniform_real_distribution<double> shift(-1.0, 1.0);
      // From a screw's turn to a facet that leaves its place and stands in others' light.
      for (int step = 0; step < 60; ++step) {
        const std::size_t k = random() % facets;
        const double size = step % 3 == 0 ? 0.4 : (step % 3 == 1 ? 0.02 : 1e-4);
        dish.facets[k].centre_m += size * Vec3(shift(random), shift(random), shift(random));
        const auto nominal = optics::nominal_pose(dish, dish.facets[k]).value();
        dish.facets[k].normal =
            base::unit(nominal.normal + 0.3 * size * Vec3(shift(random), shift(random), 0.0));
        const auto touched = optics::move_facet(scene, dish, k);
        REQUIRE(touched.ok());
        check_same(scene, optics::make_scene(dish, {}).value());
        CHECK(touched.value().touched.size() * 2 >=
              lists_that_hold(scene, static_cast<std::uint32_t>(k)));
      }
    }
  }
}

TEST_CASE("lists left behind do not pile up") {
  dish::Dish dish = support::speed_scene(SpeedScene::flat_frame, 127);
  auto scene = optics::make_scene(dish, {}).value();
  const std::size_t first = scene.candidates.size();
  for (int step = 0; step < 5000; ++step) {
    dish.facets[20].normal = base::unit(Vec3(step % 2 == 0 ? 0.2 : -0.2, 0.0, 1.0));
    REQUIRE(optics::move_facet(scene, dish, 20).ok());
  }
  CHECK(scene.candidates.size() < 3 * first + 8192);
  check_same(scene, optics::make_scene(dish, {}).value());
}

TEST_CASE("a facet that cannot move there says so") {
  dish::Dish dish = support::speed_scene(SpeedScene::dish, 19);
  auto scene = optics::make_scene(dish, {}).value();
  dish.facets[3].normal = Vec3(0.0, 0.0, -1.0);
  const auto moved = optics::move_facet(scene, dish, 3);
  REQUIRE_FALSE(moved.ok());
  CHECK(moved.problems()[0].place == "facets/F4");
}
