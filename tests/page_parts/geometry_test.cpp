// The page's geometry without a page: regions of the window, the eye, and what lies under a
// pointer.
#include <doctest/doctest.h>

#include <cmath>

#include "page/layout.h"
#include "page/yard/camera.h"
#include "page/yard/pick.h"
#include "page/yard/shadow_atlas.h"
#include "support/demo_dishes.h"

namespace {

using base::Vec2;
using base::Vec3;

constexpr yard::Picture k_picture{700.0, 500.0};

yard::Camera tilted_camera() {
  return {.target = {0.1, -0.2, 1.3}, .azimuth_rad = 0.7, .elevation_rad = 0.4, .distance_m = 5.0};
}

}  // namespace

TEST_CASE("the regions fill any window without gap or overlap, and each keeps room for its work") {
  for (const float width : {1024.0F, 1366.0F, 1920.0F, 2560.0F, 3840.0F}) {
    for (const float height : {700.0F, 768.0F, 1080.0F, 1440.0F, 2160.0F}) {
      CAPTURE(width);
      CAPTURE(height);
      const page::Layout layout = page::lay_out(width, height);
      CHECK(layout.job_line.width == width);
      CHECK(layout.bench.right() == layout.yard.x);
      CHECK(layout.yard.right() == layout.card.x);
      CHECK(layout.card.right() == width);
      CHECK(layout.bench.y == layout.job_line.bottom());
      CHECK(layout.bench.bottom() == layout.strip.y);
      CHECK(layout.strip.bottom() == height);
      CHECK(layout.strip.right() == layout.watts.x);
      CHECK(layout.watts.right() == width);
      CHECK(layout.bench.width >= 276.0F);
      CHECK(layout.card.width >= 312.0F);
      CHECK(layout.yard.width >= 400.0F);
    }
  }
  CHECK(page::lay_out(300.0F, 200.0F).card.right() == page::k_least_width);
}

TEST_CASE("a point seen at a place lies on the line through that place") {
  const yard::Camera camera = tilted_camera();
  const yard::Eye eye = yard::eye_of(camera);
  for (const Vec3& point : {Vec3(0.5, 0.3, 1.0), Vec3(-0.7, 0.2, 2.0), camera.target}) {
    const yard::Projected seen = yard::project(camera, k_picture, point);
    CHECK(seen.depth_m > 0.0);
    const Vec3 way = base::unit(point - eye.place);
    CHECK(glm::distance(yard::direction_through(camera, k_picture, seen.place), way) < 1e-12);
  }
  const yard::Projected middle = yard::project(camera, k_picture, camera.target);
  CHECK(glm::distance(middle.place, Vec2(350.0, 250.0)) < 1e-9);
}

TEST_CASE("zooming keeps what is under the pointer, and the eye never turns over") {
  const yard::Camera camera = tilted_camera();
  const Vec2 pointer{510.0, 120.0};
  const yard::Eye eye = yard::eye_of(camera);
  // A point at the target's depth under the pointer.
  const Vec3 way = yard::direction_through(camera, k_picture, pointer);
  const Vec3 point = eye.place + way * (camera.distance_m / -glm::dot(way, eye.back));
  const yard::Camera nearer = yard::zoom(camera, k_picture, 2.0, pointer, 3.0);
  CHECK(nearer.distance_m < camera.distance_m);
  CHECK(glm::distance(yard::project(nearer, k_picture, point).place, pointer) < 1e-6);
  const yard::Camera up = yard::orbit(camera, k_picture, {0.0, 1e6});
  CHECK(std::abs(up.elevation_rad) <= yard::k_steepest_rad);
}

TEST_CASE("an eye before each facet's middle finds that facet") {
  const auto made = optics::make_scene(support::larch_refuge(), {});
  REQUIRE(made.ok());
  const optics::Scene& scene = made.value();
  for (std::size_t k = 0; k < scene.facets.size(); ++k) {
    const base::Pose& pose = scene.facets[k].dish_from_facet;
    const auto hit = yard::pick_facet(scene, pose.origin + 0.2 * pose.z(), -pose.z());
    REQUIRE(hit.has_value());
    CHECK(hit->facet == k);
    CHECK(hit->distance_m == doctest::Approx(0.2).epsilon(1e-9));
  }
  CHECK_FALSE(yard::pick_facet(scene, {0.0, 0.0, 9.0}, {0.0, 0.0, 1.0}).has_value());
}

TEST_CASE("the shadow atlas holds every facet's square in its place") {
  optics::Shadows shadows{.side = 2, .clear = {{}, {0.0F, 0.5F, 1.0F, 0.0F}, {}}, .culprits = {}};
  const yard::ShadowAtlas atlas = yard::shadow_atlas(shadows);
  REQUIRE(atlas.columns == 2);
  CHECK(atlas.rows == 2);
  CHECK(atlas.bytes.size() == 4 * 4 * 4);
  const auto red = [&](int x, int y) {
    return static_cast<int>(atlas.bytes[static_cast<std::size_t>(4 * (y * atlas.width() + x))]);
  };
  CHECK(red(0, 0) == 255);
  CHECK(red(2, 0) == 0);
  CHECK(red(3, 0) == 128);
  CHECK(red(2, 1) == 255);
  CHECK(red(3, 1) == 0);
  CHECK(yard::shadow_atlas({}).columns == 0);
}
