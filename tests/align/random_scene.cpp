#include "random_scene.h"

#include <cmath>

#include "align/facet_setup.h"
#include "base/check.h"
#include "base/units.h"
#include "optics/canting.h"
#include "support/reference_dish.h"

namespace align_test {
namespace {

using base::Vec2;
using base::Vec3;

dish::Mount random_mount(support::Seeded& random) {
  dish::Mount mount{.name = {"plate"},
                    .lie = random.coin() ? dish::BracketLie::facet : dish::BracketLie::aperture,
                    .face_offset_m = random(0.0, 0.03),
                    .standoff_m = random(0.0, 0.05)};
  const double turn = random(0.0, 2.0 * base::k_pi);
  for (int k = 0; k < 3; ++k) {
    const double angle = turn + k * 2.0 * base::k_pi / 3.0 + random(-0.4, 0.4);
    const double radius = random(0.06, 0.12);
    mount.adjusters.push_back({.label = std::to_string(k + 1),
                               .x_m = radius * std::cos(angle),
                               .y_m = radius * std::sin(angle),
                               .pitch_m = random(0.0005, 0.002),
                               .hand = random.coin() ? dish::Hand::right : dish::Hand::left,
                               .turned_from = random.coin() ? dish::Side::back : dish::Side::front,
                               .carry = random.coin() ? dish::Carry::with : dish::Carry::against,
                               .travel_min_m = -0.5,
                               .travel_max_m = 0.5});
  }
  return mount;
}

dish::Secondary random_secondary(support::Seeded& random, Way way) {
  dish::Secondary secondary{.vertex_m = {random(-0.01, 0.01), random(-0.01, 0.01), 1.6},
                            .tilt_rad = {random(-0.01, 0.01), random(-0.01, 0.01)},
                            .diameter_m = 1.2};
  const double p = 0.4;
  const double q = 1.5;
  const double radius = 2.0 * p * q / (q - p);
  switch (way) {
    case Way::prime:
      break;
    case Way::flat:
      secondary.vertex_m.z = 1.1;
      secondary.form = dish::FlatSecondary{};
      break;
    case Way::hyperboloid:
      secondary.form = dish::HyperboloidSecondary{.near_focus_z_m = 2.0, .far_focus_z_m = 0.1};
      break;
    case Way::ellipsoid:
      secondary.vertex_m.z = 2.4;
      secondary.form = dish::EllipsoidSecondary{.near_focus_z_m = 2.0, .far_focus_z_m = 0.1};
      break;
    case Way::sphere:
      secondary.form = dish::SphereSecondary{.radius_m = radius};
      break;
    case Way::paraboloid:
      secondary.form = dish::ParaboloidSecondary{.focal_length_m = 0.5 * radius};
      break;
  }
  return secondary;
}

dish::Source random_source(support::Seeded& random) {
  switch (random.pick(5)) {
    case 0:
      return dish::SunSource{{random(-0.006, 0.006), random(-0.006, 0.006)}};
    case 1:
      return dish::LaserSource{};
    case 2:
      return dish::LampSource{{random(-0.5, 0.5), random(-0.5, 0.5), random(15.0, 40.0)}};
    case 3:
      return dish::AimedLaserSource{{random(-0.2, 0.2), random(-0.2, 0.2), random(12.0, 20.0)}};
    default:
      return dish::CameraSource{{random(-0.5, 0.5), random(-0.5, 0.5), random(15.0, 40.0)}};
  }
}

/// A board that faces where the light comes from: the dish, or the secondary.
dish::Board random_board(support::Seeded& random, bool by_secondary) {
  const Vec3 lit{random(-0.2, 0.2), random(-0.2, 0.2), by_secondary ? 1.0 : -1.0};
  const double z = by_secondary ? random(-0.2, 0.3) : random(0.7, 1.0);
  return {.centre_m = {random(-0.05, 0.05), random(-0.05, 0.05), z},
          .lit_normal = base::unit(lit),
          .up = {random(-0.3, 0.3), 1.0, 0.0}};
}

}  // namespace

RandomScene random_scene(support::Seeded& random, Way way) {
  RandomScene scene{.way = way};
  const double r = random(0.3, 0.8);
  const double angle = random(-base::k_pi, base::k_pi);
  const Vec2 place{r * std::cos(angle), r * std::sin(angle)};
  scene.dish = support::one_facet_dish({place.x, place.y, r * r / 8.0 + random(-0.02, 0.02)});
  scene.dish.mounts = {random_mount(random)};
  dish::Facet& facet = scene.dish.facets[0];
  facet.clocking_rad = random(-3.0, 3.0);
  facet.aim_m = {random(-0.04, 0.04), random(-0.04, 0.04)};
  if (way != Way::prime) {
    scene.dish.secondary = random_secondary(random, way);
    const double z = way == Way::flat ? 0.2 : 0.1;
    scene.dish.receiver.centre_m = {random(-0.02, 0.02), random(-0.02, 0.02), z};
    scene.dish.receiver.lit_normal = base::unit({random(-0.1, 0.1), random(-0.1, 0.1), 1.0});
  }
  if (random.pick(3) == 0) {
    const auto pose = optics::nominal_pose(scene.dish, facet);
    BASE_CHECK(pose.ok(), "a random facet can reach its aim");
    const Vec3 off{random(-0.02, 0.02), random(-0.02, 0.02), -random(0.03, 0.08)};
    facet.bracket = dish::Bracket{.origin_m = pose.value().centre + off,
                                  .x = {1.0, random(-0.2, 0.2), random(-0.2, 0.2)},
                                  .y = {random(-0.2, 0.2), 1.0, random(-0.2, 0.2)}};
  }
  scene.round.source = random_source(random);
  // By a secondary: the receiver's plane, a board behind it, or one in the way of the direct light.
  if (random.coin()) {
    const bool by_secondary = way != Way::prime && random.coin();
    scene.round.board = random_board(random, by_secondary);
  }
  return scene;
}

std::array<double, 3> random_displacement(support::Seeded& random, const dish::Dish& dish,
                                          const align::CorrectionRequest& request, double most_m) {
  std::array<double, 3> moved{random(-most_m, most_m), random(-most_m, most_m),
                              random(-most_m, most_m)};
  const auto setup = align::set_up(dish, dish.facets[0]);
  BASE_CHECK(setup.ok(), "a random facet has a bracket");
  if (request.piston == align::Piston::hold_screw) {
    const auto held = align::find_screw(setup.value(), request.held_screw);
    BASE_CHECK(held.ok(), "the held screw exists");
    moved[held.value()] = 0.0;
    return moved;
  }
  // The change is a plane; its height at the foot is taken off all three.
  const auto plane = adjusters::plane_through(setup.value().bracket, moved);
  const Vec2 foot = setup.value().bracket.foot_m;
  const double at_foot = plane.height0_m + plane.alpha * foot.x + plane.beta * foot.y;
  for (double& rise : moved) rise -= at_foot;
  return moved;
}

}  // namespace align_test
