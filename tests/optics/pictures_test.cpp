// What the eye is shown of the light: cuts, encircled power, shadows on the glass, rays.
#include <cmath>

#include "base/units.h"
#include "light_scenes.h"
#include "optics/light_scenes.h"
#include "optics/picture_rays.h"
#include "optics/profiles.h"
#include "optics/shadows.h"
#include "support/demo_dishes.h"

#include <doctest/doctest.h>

namespace {

using base::Vec2;
using base::Vec3;

optics::FluxMap map_of(double (*flux)(double, double), int cells) {
  optics::FluxMap map{.columns = cells, .rows = cells, .size_m = Vec2(0.2), .flux_W_m2 = {}};
  for (int row = 0; row < cells; ++row) {
    for (int column = 0; column < cells; ++column) {
      map.flux_W_m2.push_back(
          flux((column + 0.5) / cells * 0.2 - 0.1, (row + 0.5) / cells * 0.2 - 0.1));
    }
  }
  return map;
}

double gaussian(double x, double y) { return 5e5 * std::exp(-(x * x + y * y) / (2 * 4e-4)); }

dish::Dish square_below_a_disc(double disc_radius_m) {
  dish::Dish dish = light_scenes::one_facet(dish::Rectangle{0.5, 0.5}, dish::Flat{}, Vec3(0.0),
                                            Vec3(0.0, 0.0, 1.0));
  dish.sun.half_angle_rad = 1e-6;
  dish.blockers.push_back({"disc", dish::DiscBlocker{.centre_m = {0.05, -0.1, 1.0},
                                                     .normal = {0.0, 0.0, 1.0},
                                                     .diameter_m = 2.0 * disc_radius_m}});
  return dish;
}

}  // namespace

TEST_CASE("cuts through a map and power within a circle are those of a Gaussian") {
  const optics::FluxMap map = map_of(gaussian, 200);
  const optics::Curve cut = optics::cut_through(map, optics::Cut::along_up, {0.01, 0.0});
  REQUIRE(cut.x.size() == 200);
  for (std::size_t k = 0; k < cut.x.size(); ++k) {
    CHECK(cut.y[k] == doctest::Approx(gaussian(0.01, cut.x[k])).epsilon(2e-3));
  }
  // ISO 11146-1: a Gaussian holds 1 - exp(-r^2 / 2 s^2) within r.
  const double whole_W = 2.0 * base::k_pi * 4e-4 * 5e5;
  const optics::Curve power = optics::encircled_power(map, {0.0, 0.0}, whole_W);
  CHECK(power.x.back() == doctest::Approx(0.1));
  for (std::size_t k = 0; k < power.x.size(); ++k) {
    const double r = power.x[k];
    CHECK(std::abs(power.y[k] - (1.0 - std::exp(-r * r / 8e-4))) < 2e-4);
  }
}

TEST_CASE("a map that is not there has no curves") {
  CHECK(optics::cut_through({}, optics::Cut::along_right, {}).x.empty());
  CHECK(optics::encircled_power({}, {}, 1.0).x.empty());
  CHECK(optics::encircled_power(map_of(gaussian, 8), {}, 0.0).x.empty());
}

TEST_CASE("a disc before a flat facet takes its own area of light, twice: coming and going") {
  const optics::Scene scene = light_scenes::scene_of(square_below_a_disc(0.08));
  const optics::Shadows shadows = optics::find_shadows(scene, 200'000);
  REQUIRE(shadows.culprits.size() == 1);
  CHECK(shadows.culprits[0].kind == optics::Culprit::Kind::blocker);
  CHECK(shadows.culprits[0].index == 0);
  // Light that comes straight down goes straight up: what would be blocked was shaded already.
  const double disc_W = scene.dni_W_m2 * base::k_pi * 0.08 * 0.08;
  CHECK(shadows.culprits[0].shaded_W == doctest::Approx(disc_W).epsilon(0.03));
  CHECK(shadows.culprits[0].blocked_W == 0.0);
  // It is dark below the disc and bright elsewhere.
  const auto cell = [&](double u, double v) {
    const double radius = scene.edges[0].bounding_radius_m;
    const auto column = static_cast<int>((u + radius) / (2 * radius) * shadows.side);
    const auto row = static_cast<int>((v + radius) / (2 * radius) * shadows.side);
    return shadows.clear[0][static_cast<std::size_t>(row * shadows.side + column)];
  };
  CHECK(cell(0.05, -0.1) == 0.0F);
  CHECK(cell(-0.1, 0.1) == 1.0F);
}

TEST_CASE("the nearer of two discs has the light that both would stop") {
  dish::Dish dish = square_below_a_disc(0.08);
  dish.blockers.push_back({"nearer", dish::DiscBlocker{.centre_m = {0.05, -0.1, 2.0},
                                                       .normal = {0.0, 0.0, 1.0},
                                                       .diameter_m = 0.08}});
  const optics::Shadows shadows = optics::find_shadows(light_scenes::scene_of(dish), 200'000);
  // Seen from the facet the lower disc comes first and covers the upper one wholly.
  REQUIRE(shadows.culprits.size() == 1);
  CHECK(shadows.culprits[0].index == 0);
}

TEST_CASE("shadows of the demo agree with the trace's accounts") {
  const dish::Dish dish = support::larch_refuge();
  const optics::Scene scene = light_scenes::scene_of(dish);
  const optics::Shadows shadows = optics::find_shadows(scene, 400'000);
  double shaded_W = 0.0;
  double blocked_W = 0.0;
  for (const optics::Culprit& culprit : shadows.culprits) {
    shaded_W += culprit.shaded_W;
    blocked_W += culprit.blocked_W;
  }
  const optics::TraceResult trace = light_scenes::traced(dish, {.rays = 400'000});
  CHECK(shaded_W == doctest::Approx(trace.ledger.shading_W).epsilon(0.03));
  const double reflectance = scene.facets[0].reflectance;
  CHECK(std::abs(blocked_W * reflectance - trace.ledger.blocking_W) <
        0.1 * trace.ledger.blocking_W + 1.0);
}

TEST_CASE("the first ray of a picture is the chief ray, and none leaves the outline") {
  const optics::Scene scene = light_scenes::scene_of(support::larch_refuge());
  for (std::size_t facet = 0; facet < scene.facets.size(); ++facet) {
    const auto rays = optics::picture_rays(scene, facet, 12);
    REQUIRE(rays.size() == 12);
    const base::Pose& pose = scene.facets[facet].dish_from_facet;
    CHECK(glm::distance(rays[0].points[1], pose.origin) < 1e-12);
    for (const optics::PictureRay& ray : rays) {
      const Vec3 uv = base::point_to_inner(pose, ray.points[1]);
      CHECK(optics::is_inside(scene.edges[scene.facets[facet].edge], uv.x, uv.y));
      if (ray.end != optics::End::landed) continue;
      const base::Pose& board = scene.receiver.dish_from_board;
      CHECK(std::abs(base::point_to_inner(board, ray.points.back()).z) < 1e-12);
    }
  }
}
