// The law of alignment: displace the screws, see where the centre ray lands, feed that back, and
// the corrections undo the displacements. For every kind of light, board, secondary, bracket and
// screw.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "align/correct.h"
#include "align/facet_setup.h"
#include "align/observe.h"
#include "random_scene.h"
#include "support/figures.h"
#include "support/reference_dish.h"
#include "support/seeded.h"

namespace {

using align_test::RandomScene;
using align_test::Way;
using base::Vec2;
using support::Seeded;

/// Where the centre ray of the scene's facet lands with its screws displaced; nothing when it
/// lands nowhere.
std::optional<Vec2> seen_spot(const RandomScene& scene, const std::array<double, 3>& moved) {
  const auto setup = align::set_up(scene.dish, scene.dish.facets[0]);
  REQUIRE(setup.ok());
  const auto pose = adjusters::displaced_pose(setup.value().bracket, setup.value().nominal, moved);
  const auto sighting = align::sighting_of(scene.dish, scene.round);
  const auto mark = align::expected_mark(scene.dish, scene.dish.facets[0], pose, sighting);
  if (!mark) return std::nullopt;
  return mark.value().board_m;
}

align::CorrectionRequest request_of(Seeded& random) {
  if (random.coin()) return {.piston = align::Piston::keep_height};
  return {.piston = align::Piston::hold_screw, .held_screw = std::to_string(1 + random.pick(3))};
}

align::Correction correction_of(const RandomScene& scene, const Vec2& seen,
                                const align::CorrectionRequest& request) {
  const auto sighting = align::sighting_of(scene.dish, scene.round);
  auto correction = align::correct(scene.dish, scene.dish.facets[0], sighting, seen, request);
  if (!correction.ok()) INFO(base::to_text(correction.problems()));
  REQUIRE(correction.ok());
  return std::move(correction).value();
}

}  // namespace

// 1 micrometre is what the screws' heights must come back to; the formulas are exact, so the pin is
// at 0.01 nanometre (Newton on the secondary rests at 1e-12 m; levers are a tenth of the
// distances).
TEST_CASE("corrections undo any displacement, in every construction") {
  Seeded random(20240611);
  double worst = 0.0;
  int done = 0;
  int by_way[align_test::k_ways] = {};
  for (int trial = 0; trial < 360; ++trial) {
    CAPTURE(trial);
    const auto way = static_cast<Way>(trial % align_test::k_ways);
    const RandomScene scene = align_test::random_scene(random, way);
    const auto request = request_of(random);
    const auto moved = align_test::random_displacement(random, scene.dish, request, 1.5e-3);
    const auto seen = seen_spot(scene, moved);
    if (!seen) continue;
    const auto correction = correction_of(scene, *seen, request);
    for (std::size_t k = 0; k < 3; ++k) {
      worst = std::max(worst, std::abs(correction.screws[k].displacement_m + moved[k]));
      worst = std::max(worst, std::abs(correction.screws[k].now_m - moved[k]));
    }
    ++done;
    ++by_way[static_cast<int>(way)];
  }
  CHECK(done >= 300);
  for (const int count : by_way) CHECK(count >= 40);
  CHECK_MESSAGE(worst < 1e-6, "every height comes back to a micrometre");
  CHECK_MESSAGE(worst < 1e-11, "today's difference is 6e-14");
  support::record_figure("align/round_trips", done);
}

TEST_CASE("a facet that stands as it should is told to stay, and by how it already stands") {
  Seeded random(5);
  for (int trial = 0; trial < 60; ++trial) {
    CAPTURE(trial);
    const RandomScene scene =
        align_test::random_scene(random, static_cast<Way>(trial % align_test::k_ways));
    const auto seen = seen_spot(scene, {0.0, 0.0, 0.0});
    REQUIRE(seen.has_value());
    const auto correction = correction_of(scene, *seen, {});
    CHECK(correction.verdict == align::Verdict::leave);
    CHECK(glm::length(correction.tilt_error_rad) < 1e-9);
    for (const auto& screw : correction.screws) {
      CHECK(std::abs(screw.turns) < 1e-6);
      CHECK(screw.clicks == 0);
      CHECK(screw.direction == "leave it as it is");
    }
  }
}

// When the file already knows the displacements (an as-built dish), the spot agrees with them.
TEST_CASE("known displacements are kept in the books") {
  Seeded random(17);
  for (int trial = 0; trial < 40; ++trial) {
    RandomScene scene =
        align_test::random_scene(random, static_cast<Way>(trial % align_test::k_ways));
    std::array<double, 3> moved{random(-1e-3, 1e-3), random(-1e-3, 1e-3), random(-1e-3, 1e-3)};
    const auto seen = seen_spot(scene, moved);
    if (!seen) continue;
    scene.dish.facets[0].displacement_m = moved;
    const auto correction = correction_of(scene, *seen, {.piston = align::Piston::keep_height});
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(std::abs(correction.screws[k].now_m - moved[k]) < 1e-9);
    }
  }
}

TEST_CASE("turning as told brings the light to the aim, whatever the convention") {
  using align::Piston;
  Seeded random(23);
  for (int trial = 0; trial < 84; ++trial) {
    RandomScene scene =
        align_test::random_scene(random, static_cast<Way>(trial % align_test::k_ways));
    const align::CorrectionRequest request{
        .piston = static_cast<Piston>(trial % 7), .held_screw = "2", .clicks_per_turn = 360};
    const auto moved = align_test::random_displacement(random, scene.dish, request, 1.5e-3);
    const auto seen = seen_spot(scene, moved);
    if (!seen) continue;
    const auto first = correction_of(scene, *seen, request);
    std::array<double, 3> exact = moved;
    std::array<double, 3> told = moved;
    for (std::size_t k = 0; k < 3; ++k) {
      exact[k] += first.screws[k].displacement_m;
      const auto& adjuster = scene.dish.mounts[0].adjusters[k];
      told[k] += first.screws[k].clicks / 360.0 * adjusters::rise_per_turn_m(adjuster);
    }
    // What is left is what was foretold: nothing after the exact rises, the residual after clicks.
    // The centre for which the wanted normal is taken differs a little between the two (by the face
    // offset times the residual, some micrometres over metres of ray): 3e-7 rad.
    const auto again = [&](const std::array<double, 3>& displacement) {
      const auto spot = seen_spot(scene, displacement);
      REQUIRE(spot.has_value());
      scene.dish.facets[0].displacement_m = displacement;
      const auto correction = correction_of(scene, *spot, {.piston = Piston::keep_height});
      scene.dish.facets[0].displacement_m = {0.0, 0.0, 0.0};
      return correction;
    };
    CHECK(glm::length(again(exact).tilt_error_rad) < 1e-9);
    CHECK(std::abs(glm::length(again(told).tilt_error_rad) - first.residual_rad) < 3e-7);
    REQUIRE(first.residual_spot_m.has_value());
    CHECK(glm::length(*first.residual_spot_m) ==
          doctest::Approx(glm::length(again(told).spot_error_m)).epsilon(1e-2));
  }
}

TEST_CASE("the order of the screws does not change what each is told") {
  Seeded random(31);
  for (int trial = 0; trial < 24; ++trial) {
    RandomScene scene =
        align_test::random_scene(random, static_cast<Way>(trial % align_test::k_ways));
    const auto moved = align_test::random_displacement(random, scene.dish, {}, 1.5e-3);
    const auto seen = seen_spot(scene, moved);
    if (!seen) continue;
    const auto first = correction_of(scene, *seen, {});
    auto& screws = scene.dish.mounts[0].adjusters;
    std::rotate(screws.begin(), screws.begin() + 1, screws.end());
    const auto second = correction_of(scene, *seen, {});
    for (std::size_t k = 0; k < 3; ++k) {
      const auto& same = first.screws[(k + 1) % 3];
      CHECK(second.screws[k].label == same.label);
      CHECK(std::abs(second.screws[k].displacement_m - same.displacement_m) < 1e-12);
      CHECK(second.screws[k].clicks == same.clicks);
    }
  }
}

// With the centre held fixed instead, the same spot asks for nearly the same rises: the centre of
// these facets moves by under 0.5 mm, which the geometry turns into a small share of the tilt.
TEST_CASE("a fixed pivot is close to the mount's own") {
  RandomScene scene;
  scene.dish = support::one_facet_dish({0.5, 0.0, 0.03125});
  const auto seen = seen_spot(scene, {0.001, -0.0005, -0.0005});
  REQUIRE(seen.has_value());
  align::CorrectionRequest request{.piston = align::Piston::keep_height};
  const auto mount = correction_of(scene, *seen, request);
  request.pivot = align::Pivot::fixed;
  const auto fixed = correction_of(scene, *seen, request);
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(std::abs(mount.screws[k].displacement_m - fixed.screws[k].displacement_m) < 1e-5);
    CHECK(mount.screws[k].displacement_m != fixed.screws[k].displacement_m);
  }
}

TEST_CASE("a wrong wish is refused in words that name the facet") {
  RandomScene scene;
  scene.dish = support::one_facet_dish({0.5, 0.0, 0.03125});
  const auto line = [&](const align::CorrectionRequest& request) {
    const auto result =
        align::correct(scene.dish, scene.dish.facets[0],
                       align::sighting_of(scene.dish, scene.round), {0.0, 0.0}, request);
    REQUIRE(!result.ok());
    const std::string text = base::to_line(result.problems().front());
    CHECK(text.find("A1") != std::string::npos);
    return text;
  };
  const align::CorrectionRequest held{.piston = align::Piston::hold_screw, .held_screw = "9"};
  CHECK(line(held).find("no screw \"9\" to hold") != std::string::npos);
  CHECK(line({.clicks_per_turn = 0}).find("at least one click") != std::string::npos);
  scene.dish.mounts[0].spring.text = "lost";
  CHECK(line({}).find("the name of a spring") != std::string::npos);
  scene.dish.mounts.clear();
  CHECK(line({}).find("the name of a mount") != std::string::npos);
}
