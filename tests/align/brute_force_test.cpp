// The whole chain against a second one of its own making: screws, plane, reflection and board in
// long double, with nothing of the program's geometry. Hidden displacements, seen through it, are
// undone by the turns that are told.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <optional>

#include "align/correct.h"
#include "align/observe.h"
#include "random_scene.h"
#include "support/figures.h"
#include "support/outside.h"
#include "support/reference_dish.h"
#include "support/seeded.h"

namespace {

using support::Seeded;
using Real = long double;

struct Point {
  Real x = 0, y = 0, z = 0;
};
Point operator+(const Point& a, const Point& b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
Point operator-(const Point& a, const Point& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
Point operator*(Real k, const Point& a) { return {k * a.x, k * a.y, k * a.z}; }
Real dot(const Point& a, const Point& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
Point crossed(const Point& a, const Point& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
Point unit_of(const Point& a) { return (1 / std::sqrt(dot(a, a))) * a; }
Point point(const base::Vec3& v) { return {v.x, v.y, v.z}; }

struct Trio {
  Point origin, x, y, axis;  ///< the bracket
  std::array<std::array<Real, 2>, 3> seats{};
  std::array<Real, 3> nominal{};  ///< heights along the axis
  Real face_offset = 0;
  std::array<Real, 2> foot{};
};

/// Where along the axis through (X, Y) the plane through `at` across `normal` is met.
Real height_of(const Trio& trio, Real X, Real Y, const Point& at, const Point& normal) {
  const Point base = trio.origin + X * trio.x + Y * trio.y;
  return dot(at - base, normal) / dot(trio.axis, normal);
}

/// A bracket that lies anyhow behind a facet whose nominal centre and normal are these.
Trio trio_behind(const Point& centre, const Point& normal, const dish::Mount& mount,
                 const dish::Bracket& bracket) {
  Trio trio;
  trio.origin = point(bracket.origin_m);
  trio.x = unit_of(point(bracket.x));
  const Point y = point(bracket.y);
  trio.y = unit_of(y - dot(y, trio.x) * trio.x);
  trio.axis = crossed(trio.x, trio.y);
  trio.face_offset = mount.face_offset_m;
  const Point back = centre - trio.face_offset * normal;  // in the ball plane, under the centre
  trio.foot = {dot(back - trio.origin, trio.x), dot(back - trio.origin, trio.y)};
  for (std::size_t k = 0; k < 3; ++k) {
    trio.seats[k] = {mount.adjusters[k].x_m, mount.adjusters[k].y_m};
    trio.nominal[k] = height_of(trio, trio.seats[k][0], trio.seats[k][1], back, normal);
  }
  return trio;
}

struct Pose {
  Point centre, normal;
};

/// The facet on its three displaced screws: the plane through the balls, by a cross product.
Pose standing(const Trio& trio, const std::array<double, 3>& moved) {
  std::array<Point, 3> ball;
  for (std::size_t k = 0; k < 3; ++k) {
    ball[k] = trio.origin + trio.seats[k][0] * trio.x + trio.seats[k][1] * trio.y +
              (trio.nominal[k] + moved[k]) * trio.axis;
  }
  Point normal = unit_of(crossed(ball[1] - ball[0], ball[2] - ball[0]));
  if (dot(normal, trio.axis) < 0) normal = -1 * normal;
  const Real h = height_of(trio, trio.foot[0], trio.foot[1], ball[0], normal);
  const Point back = trio.origin + trio.foot[0] * trio.x + trio.foot[1] * trio.y + h * trio.axis;
  return {back + trio.face_offset * normal, normal};
}

/// A ray from the source by way of the facet's centre to the board, as (right, up) for someone who
/// faces its lit side; nothing when it arrives from behind.
std::optional<base::Vec2> spot_on(const dish::Board& board, const dish::Source& source,
                                  const Pose& pose) {
  Point from_source{0, 0, -1};
  if (const auto* sun = std::get_if<dish::SunSource>(&source)) {
    from_source = unit_of({-sun->tracking_error_rad.x, -sun->tracking_error_rad.y, -1});
  }
  if (const base::Vec3* at = dish::point_of(source)) {
    from_source = unit_of(pose.centre - point(*at));
  }
  const Point leaving = from_source - 2 * dot(from_source, pose.normal) * pose.normal;
  const Point lit = unit_of(point(board.lit_normal));
  const Real away = dot(leaving, lit);
  const Real far = dot(point(board.centre_m) - pose.centre, lit) / away;
  if (!(away < 0 && far > 0)) return std::nullopt;
  const Point hint = point(board.up);
  const Point up = unit_of(hint - dot(hint, lit) * lit);
  const Point right = crossed(up, lit);
  const Point on_board = pose.centre + far * leaving - point(board.centre_m);
  return base::Vec2{static_cast<double>(dot(on_board, right)),
                    static_cast<double>(dot(on_board, up))};
}

dish::Source source_of_kind(Seeded& random, int kind) {
  const base::Vec3 far{random(-0.5, 0.5), random(-0.5, 0.5), random(4.0, 40.0)};
  switch (kind) {
    case 0:
      return dish::SunSource{{random(-0.01, 0.01), random(-0.01, 0.01)}};
    case 1:
      return dish::LaserSource{};
    case 2:
      return dish::LampSource{far};
    case 3:
      return dish::AimedLaserSource{far};
    default:
      return dish::CameraSource{far};
  }
}

/// A board anywhere: inside the focus, in it or beyond it, tilted and turned.
dish::Board board_anywhere(Seeded& random) {
  return {.centre_m = {random(-0.2, 0.2), random(-0.2, 0.2), random(1.2, 3.0)},
          .lit_normal = base::unit({random(-0.4, 0.4), random(-0.4, 0.4), -1.0}),
          .up = {random(-1.0, 1.0), random(-1.0, 1.0), random(-0.2, 0.2)}};
}

}  // namespace

// The law of reflection, in long double, written apart from the program. 1 nm of screw height (a
// micrometre would serve any hand); today's worst is rounding of doubles.
TEST_CASE("a second, brute-force chain agrees, whatever light, board and bracket") {
  Seeded random(19);
  double worst_height = 0.0;
  double worst_mark = 0.0;
  std::array<int, 5> by_source{};
  const char* lights[] = {"sun", "laser", "lamp", "laser that is aimed", "camera"};
  constexpr double pins[5] = {0.022490904403, -0.177994333953, 0.010511184136, 0.137806316079,
                              -0.10972511353};
  for (int trial = 0; trial < 400; ++trial) {
    CAPTURE(trial);
    align_test::RandomScene scene = align_test::random_scene(random, align_test::Way::prime);
    dish::Facet& facet = scene.dish.facets[0];
    const int kind = trial % 5;
    scene.round.source = source_of_kind(random, kind);
    scene.round.board = board_anywhere(random);
    // The wanted normal, by the bisector of the axis and the way to the aim: receiver at the focus,
    // lit from below, so that its right is -x.
    const Point centre = point(facet.centre_m);
    const Point aim =
        point(scene.dish.receiver.centre_m) + Point{-Real(facet.aim_m.x), Real(facet.aim_m.y), 0};
    const Point normal = unit_of(Point{0, 0, 1} + unit_of(aim - centre));
    // A bracket of its own, leaning any way up to about 20 degrees.
    const base::Vec3 lean{random(-0.35, 0.35), random(-0.35, 0.35), 0.0};
    facet.bracket = dish::Bracket{
        .origin_m = facet.centre_m +
                    base::Vec3{random(-0.05, 0.05), random(-0.05, 0.05), -random(0.02, 0.08)},
        .x = {1.0, random(-0.3, 0.3), lean.x},
        .y = {random(-0.3, 0.3), 1.0, lean.y}};
    const Trio trio = trio_behind(centre, normal, scene.dish.mounts[0], *facet.bracket);
    const align::CorrectionRequest request{.piston = align::Piston::hold_screw, .held_screw = "1"};
    const std::array<double, 3> moved{0.0, random(-1.5e-3, 1.5e-3), random(-1.5e-3, 1.5e-3)};

    const Pose pose = standing(trio, moved);
    const auto seen = spot_on(*scene.round.board, scene.round.source, pose);
    if (!seen) continue;
    const auto sighting = align::sighting_of(scene.dish, scene.round);
    const auto mark = align::expected_mark(
        scene.dish, facet,
        {{static_cast<double>(pose.centre.x), static_cast<double>(pose.centre.y),
          static_cast<double>(pose.centre.z)},
         {static_cast<double>(pose.normal.x), static_cast<double>(pose.normal.y),
          static_cast<double>(pose.normal.z)}},
        sighting);
    REQUIRE(mark.ok());
    worst_mark = std::max(worst_mark, glm::distance(mark.value().board_m, *seen));
    const auto light = static_cast<std::size_t>(kind);
    if (by_source[light] == 0) {
      support::check_outside(
          {.what = std::string("first mark by the light of a ") + lights[light] + ", up, m",
           .source = "law of reflection in long double, a chain of its own",
           .outside = seen->y,
           .ours = mark.value().board_m.y,
           .tolerance = 1e-13,
           .why = "rounding of doubles",
           .pin = pins[light]});
    }
    const auto correction = align::correct(scene.dish, facet, sighting, *seen, request);
    if (!correction) FAIL(base::to_text(correction.problems()));
    // The wish to hold screw 1 can only be met up to the change of the wanted normal with the
    // facet's centre; what is compared is where the screws are thought to stand now.
    for (std::size_t k = 0; k < 3; ++k) {
      worst_height =
          std::max(worst_height, std::abs(correction.value().screws[k].now_m - moved[k]));
      worst_height =
          std::max(worst_height, std::abs(correction.value().screws[k].displacement_m + moved[k]));
    }
    ++by_source[light];
  }
  for (const int count : by_source) CHECK(count >= 40);
  CHECK_MESSAGE(worst_mark < 1e-9, "marks agree to a nanometre");
  CHECK_MESSAGE(worst_height < 1e-9, "screws agree to a nanometre");
  CHECK_MESSAGE(worst_mark < 1e-13, "today's difference is 1e-15 m");
  CHECK_MESSAGE(worst_height < 1e-12, "today's difference is rounding");
  support::record_figure("align/brute_force_marks", by_source[0] + by_source[4]);
}
