// The same scenes through a general-purpose ray-tracing library (Embree 3.13 or 4.3, of the
// distribution's packages): it finds what stops light by its own tree of boxes, over all solids at
// once.
#ifdef FW_RAY_LIBRARY
#include "support/ray_library.h"
#endif

#include "support/speed_scenes.h"

#include <doctest/doctest.h>

#ifdef FW_RAY_LIBRARY
// Tolerance 2e-3 of the whole: the library's run has one eighth of the points, 8192 a facet, and
// its low-discrepancy error for the blocked edge strips is 1e-3. Today's differences are below
// 5e-4.
TEST_CASE("a general-purpose ray library shades, blocks and catches the same shares") {
  for (const auto kind : {support::SpeedScene::dish, support::SpeedScene::flat_frame,
                          support::SpeedScene::two_mirror}) {
    const auto scene = optics::make_scene(support::speed_scene(kind, 37), {});
    REQUIRE(scene.ok());
    const auto ours = optics::trace_scene(scene.value(), {.rays = 37 * 8 * 8192}).value();
    ray_library::Tracer library(scene.value());
    const auto counts = library.trace<8>(8192);
    const auto singles = library.trace<1>(8192);
    CHECK(counts.caught == doctest::Approx(singles.caught).epsilon(1e-6));
    CHECK(counts.receiver == doctest::Approx(singles.receiver).epsilon(1e-4));
    const auto& l = ours.ledger;
    const double caught = l.incident_W - l.cosine_W - l.gaps_W;
    const double reflectance = scene.value().facets[0].reflectance;
    const double both =
        reflectance * (scene.value().secondary ? scene.value().secondary->reflectance : 1.0);
    CAPTURE(counts.shaded / counts.caught);
    CAPTURE(counts.blocked / counts.caught);
    CHECK(std::abs(l.shading_W / caught - counts.shaded / counts.caught) < 2e-3);
    CHECK(std::abs(l.secondary_missed_W / caught / reflectance - counts.missed / counts.caught) <
          2e-3);
    if (!scene.value().secondary) {
      CHECK(std::abs(l.blocking_W / caught / reflectance - counts.blocked / counts.caught) < 2e-3);
    }
    CHECK(std::abs(ours.power_plane_W / caught / both - counts.plane / counts.caught) < 2e-3);
    CHECK(std::abs(ours.intercept_factor - counts.receiver / counts.plane) < 1e-3);
  }
}
#else
TEST_CASE("a general-purpose ray library shades, blocks and catches the same shares") {
  MESSAGE("skipped: the package libembree-dev is not installed");
}
#endif
