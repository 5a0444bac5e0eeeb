// Inclinometers and height gauges: exact inverses, uncertainties, and what cannot be read.
#include "align/evidence.h"

#include <doctest/doctest.h>

#include <cmath>

#include "align/correct.h"
#include "align/plan.h"
#include "base/units.h"
#include "random_scene.h"
#include "support/figures.h"
#include "support/outside.h"
#include "support/reference_dish.h"
#include "support/says.h"
#include "support/seeded.h"

namespace {

using base::Vec2;
using base::Vec3;
using support::one_facet_dish;
using support::Seeded;

Vec3 up_at(double elevation_rad) { return {0.0, std::cos(elevation_rad), std::sin(elevation_rad)}; }

/// What an inclinometer reads along an edge of a facet that stands so.
dish::Lean lean_of(const dish::Facet& facet, const Vec3& normal, double edge_rad,
                   double elevation_rad) {
  const base::Mat3 frame = base::frame_of_normal(normal, facet.clocking_rad);
  const Vec3 edge = frame * Vec3(std::cos(edge_rad), std::sin(edge_rad), 0.0);
  return {facet.id, edge_rad, std::asin(glm::dot(edge, up_at(elevation_rad))), {}, {}};
}

align::FacetSetup setup_of(const dish::Dish& dish) {
  auto setup = align::set_up(dish, dish.facets[0]);
  REQUIRE(setup.ok());
  return std::move(setup).value();
}

Vec3 normal_of(const base::Result<align::Evidence>& evidence) {
  if (!evidence) FAIL(base::to_text(evidence.problems()));
  const auto normal = evidence.value().normal_at({0.0, 0.0, 0.0}, {0.0, 0.0});
  REQUIRE(normal.ok());
  return normal.value();
}

std::string line_of(const base::Result<align::Evidence>& evidence) {
  REQUIRE(!evidence.ok());
  return base::to_line(evidence.problems().front());
}

Vec3 leaned(const Vec3& normal, double x, double y) {
  const base::Mat3 frame = base::frame_of_normal(normal);
  return base::unit(normal + x * frame[0] + y * frame[1]);
}

/// Heights of a plane of displaced screws at places on the bracket.
std::vector<dish::GaugeHeight> heights_of(const align::FacetSetup& setup,
                                          const std::array<double, 3>& moved,
                                          const std::vector<Vec2>& places) {
  const auto plane = adjusters::plane_through(setup.bracket, setup.heights_at(moved));
  std::vector<dish::GaugeHeight> heights;
  for (const Vec2& at : places) {
    const double height = plane.height0_m + plane.alpha * at.x + plane.beta * at.y;
    heights.push_back({setup.facet->id, at, height, {}});
  }
  return heights;
}

}  // namespace

// Source: derived from the smallest rotation that takes +z to n, whose last row is (-n_x, -n_y,
// n_z): at the zenith n_x = -sin(reading along x) and n_y = -sin(reading along y), exactly.
// Tolerance: rounding.
TEST_CASE("at the zenith the readings are the normal") {
  const dish::Dish dish = one_facet_dish({0.0, 0.0, 0.0});
  const auto setup = setup_of(dish);
  for (const Vec3 normal : {Vec3{0.05, 0.0, 0.0}, {0.0, -0.03, 0.0}, {0.04, 0.02, 0.0}}) {
    const Vec3 n{normal.x, normal.y, std::sqrt(1.0 - glm::dot(normal, normal))};
    const align::ReadLeans read{{{dish.facets[0].id, 0.0, -std::asin(n.x), {}, {}},
                                 {dish.facets[0].id, 0.5 * base::k_pi, -std::asin(n.y), {}, {}}},
                                0.5 * base::k_pi};
    CHECK(glm::distance(normal_of(align::evidence_of(setup, read, 1e-3)), n) < 1e-14);
  }
}

TEST_CASE("two readings along any two directions give the normal exactly, at any elevation") {
  Seeded random(65);
  double worst = 0.0;
  for (int trial = 0; trial < 300; ++trial) {
    dish::Dish dish = one_facet_dish({random(-0.7, 0.7), random(-0.7, 0.7), 0.05});
    dish.facets[0].clocking_rad = random(-3.0, 3.0);
    const auto setup = setup_of(dish);
    const Vec3 normal = leaned(setup.nominal.normal, random(-0.05, 0.05), random(-0.05, 0.05));
    const double elevation = random(0.5, 1.5);
    const double edge = random(-3.0, 3.0);
    const double other = edge + (random.coin() ? 1.0 : -1.0) * random(0.6, 2.5);
    const align::ReadLeans read{{lean_of(dish.facets[0], normal, edge, elevation),
                                 lean_of(dish.facets[0], normal, other, elevation)},
                                elevation};
    const auto evidence = align::evidence_of(setup, read, 1e-3);
    worst = std::max(worst, glm::distance(normal_of(evidence), normal));
    CHECK(evidence.value().misfit == 0.0);
  }
  CHECK_MESSAGE(worst < 1e-9, "a nanoradian is far below any instrument");
  CHECK_MESSAGE(worst < 1e-13, "today's difference is rounding");
}

TEST_CASE("an instrument's zero error drops out of readings taken both ways") {
  const dish::Dish dish = one_facet_dish({0.5, 0.0, 0.03125});
  const auto setup = setup_of(dish);
  const Vec3 normal = leaned(setup.nominal.normal, 0.006, -0.011);
  align::ReadLeans read{{}, 1.1};
  const double zero = 0.0045;
  for (const double edge : {0.2, 1.9, 2.6}) {
    dish::Lean lean = lean_of(dish.facets[0], normal, edge, 1.1);
    lean.reversed_rad = -lean.reading_rad + zero;
    lean.reading_rad += zero;
    read.leans.push_back(lean);
  }
  const auto both = align::evidence_of(setup, read, 1e-3);
  CHECK(glm::distance(normal_of(both), normal) < 1e-13);
  CHECK(both.value().misfit < 1e-9);
  for (dish::Lean& lean : read.leans) lean.reversed_rad.reset();
  const auto one_way = align::evidence_of(setup, read, 1e-4);
  CHECK(glm::distance(normal_of(one_way), normal) > 1e-3);
  CHECK_MESSAGE(one_way.value().misfit > 4.0, "a third reading shows the zero error");
}

// A rise answers to a tilt by u.n, so the normal is known to sigma cos(reading) / (u.n): sin E for
// a facet on the axis.
TEST_CASE("the uncertainty of leans grows toward the horizon") {
  const dish::Dish dish = one_facet_dish({0.0, 0.0, 0.0});
  const auto setup = setup_of(dish);
  constexpr double elevations_deg[] = {65.0, 10.0};
  constexpr double sines[] = {0.906308, 0.173648};
  constexpr double pins[2] = {0.906307787036, 0.173648177667};
  for (std::size_t k = 0; k < 2; ++k) {
    const double elevation = base::rad_from_deg(elevations_deg[k]);
    const align::ReadLeans read{
        {lean_of(dish.facets[0], setup.nominal.normal, 0.0, elevation),
         lean_of(dish.facets[0], setup.nominal.normal, 0.5 * base::k_pi, elevation)},
        elevation};
    const auto evidence = align::evidence_of(setup, read, 0.001745);
    REQUIRE(evidence.ok());
    const base::Mat2& sigma = evidence.value().one_sigma;
    support::check_outside({.what = "answer of an inclinometer, dish at " +
                                    std::to_string(static_cast<int>(elevations_deg[k])) + " deg",
                            .source = "table of sines: u.n",
                            .outside = sines[k],
                            .ours = 0.001745 / sigma[0].x,
                            .tolerance = 6e-7,
                            .why = support::k_half_digit,
                            .pin = pins[k]});
    // Along y the line itself rises by 90 - E: sigma of the sine is sigma sin E, over sin E.
    CHECK(sigma[1].y == doctest::Approx(0.001745).epsilon(1e-5));
    CHECK(std::abs(sigma[0].y) < 1e-9);
  }
}

TEST_CASE("what an inclinometer cannot tell is refused in words") {
  const dish::Dish dish = one_facet_dish({0.0, 0.0, 0.0});
  const auto setup = setup_of(dish);
  const auto read_at = [&](double elevation, std::vector<double> edges) {
    align::ReadLeans read{{}, elevation};
    for (const double edge : edges) {
      read.leans.push_back(lean_of(dish.facets[0], setup.nominal.normal, edge, elevation));
    }
    return align::evidence_of(setup, read, 1e-3);
  };
  CHECK(support::says(line_of(read_at(1.0, {0.0})), "one inclinometer reading"));
  CHECK(support::says(line_of(read_at(1.0, {0.0, 3.14159, 0.01})), "nearly one direction"));
  CHECK(support::says(line_of(read_at(0.02, {0.0, 1.5})), "1 degrees from upright"));
  CHECK(support::says(line_of(read_at(0.02, {0.0, 1.5})), "pointing higher"));
  align::ReadLeans wild{
      {{dish.facets[0].id, 0.0, 0.5, {}, {}}, {dish.facets[0].id, 1.5, 0.5, {}, {}}}, 1.5};
  CHECK(support::says(line_of(align::evidence_of(setup, wild, 1e-3)), "degrees of nominal"));
}

// sd(slope) = sigma sqrt(2/3) / r for three places at even angles on a radius r, sigma / sqrt(sum
// u^2) in general for centred places.
TEST_CASE("heights tell slopes as surely as their places are far apart") {
  const dish::Dish dish = one_facet_dish({0.3, 0.2, 0.01625});
  const auto setup = setup_of(dish);
  const std::vector<Vec2> seats(setup.bracket.seats_m.begin(), setup.bracket.seats_m.end());
  const auto three =
      align::evidence_of(setup, align::GaugedHeights{heights_of(setup, {}, seats)}, 5e-5);
  REQUIRE(three.ok());
  const double closed = 5e-5 * std::sqrt(2.0 / 3.0) / 0.08;
  constexpr double pins[3] = {0.51031036308, 0.353553390593, 0.707106781187};
  support::OutsideCheck check{.source = "least squares of a plane (any textbook): gauged heights"};
  check.what = "slope's sigma, 0.05 mm on 80 mm, mrad";
  check.outside = 0.51;
  check.ours = 1e3 * three.value().one_sigma[0].x;
  check.tolerance = 0.005;
  check.why = support::k_half_digit;
  check.pin = pins[0];
  support::check_outside(check);
  CHECK(three.value().one_sigma[0].x == doctest::Approx(closed).epsilon(1e-12));
  CHECK(three.value().one_sigma[1].y == doctest::Approx(closed).epsilon(1e-12));
  support::record_figure("align/caliper_slope_sd_rad", three.value().one_sigma[0].x);
  const std::vector<Vec2> cross{{0.1, 0.0}, {-0.1, 0.0}, {0.0, 0.05}, {0.0, -0.05}};
  const auto four =
      align::evidence_of(setup, align::GaugedHeights{heights_of(setup, {}, cross)}, 5e-5);
  REQUIRE(four.ok());
  check.tolerance = 1e-12;
  check.why = "rounding";
  check.what = "slope's sigma, 0.05 mm on a cross, along its longer arm, mrad";
  check.outside = 0.05 / std::sqrt(0.02);
  check.ours = 1e3 * four.value().one_sigma[0].x;
  check.pin = pins[1];
  support::check_outside(check);
  check.what = "slope's sigma, 0.05 mm on a cross, along its shorter arm, mrad";
  check.outside = 0.05 / std::sqrt(0.005);
  check.ours = 1e3 * four.value().one_sigma[1].y;
  check.pin = pins[2];
  support::check_outside(check);
  CHECK(four.value().misfit < 1e-9);
  const std::vector<Vec2> line{{0.1, 0.1}, {0.0, 0.0}, {-0.1, -0.1001}};
  const auto flat =
      align::evidence_of(setup, align::GaugedHeights{heights_of(setup, {}, line)}, 5e-5);
  CHECK(support::says(line_of(flat), "nearly in a line"));
  const auto two = align::evidence_of(
      setup, align::GaugedHeights{heights_of(setup, {}, {cross[0], cross[1]})}, 5e-5);
  CHECK(support::says(line_of(two), "2 measured heights"));
}

// The same law as for spots: displaced screws, what the instrument then reads, and back.
TEST_CASE("leans and heights undo any displacement, in every construction") {
  Seeded random(20260301);
  double worst = 0.0;
  for (int trial = 0; trial < 240; ++trial) {
    CAPTURE(trial);
    const auto scene =
        align_test::random_scene(random, static_cast<align_test::Way>(trial % align_test::k_ways));
    const align::CorrectionRequest request =
        random.coin() ? align::CorrectionRequest{.piston = align::Piston::keep_height}
                      : align::CorrectionRequest{.piston = align::Piston::hold_screw,
                                                 .held_screw = std::to_string(1 + random.pick(3))};
    const auto moved = align_test::random_displacement(random, scene.dish, request, 1.5e-3);
    const auto setup = setup_of(scene.dish);
    align::Observation observation;
    if (trial % 2 == 0) {
      const auto pose = adjusters::displaced_pose(setup.bracket, setup.nominal, moved);
      const double elevation = random(0.6, 1.5);
      observation = align::ReadLeans{{lean_of(scene.dish.facets[0], pose.normal, 0.3, elevation),
                                      lean_of(scene.dish.facets[0], pose.normal, 1.7, elevation)},
                                     elevation};
    } else {
      observation = align::GaugedHeights{
          heights_of(setup, moved, {{0.09, 0.01}, {-0.03, 0.08}, {-0.05, -0.1}, {0.02, 0.02}})};
    }
    const auto sighting = align::sighting_of(scene.dish, scene.round);
    const auto correction =
        align::correct(scene.dish, scene.dish.facets[0], sighting, observation, request);
    if (!correction) FAIL(base::to_text(correction.problems()));
    for (std::size_t k = 0; k < 3; ++k) {
      const auto& screw = correction.value().screws[k];
      worst = std::max(worst, std::abs(screw.displacement_m + moved[k]));
      const bool is_held = request.held_screw == std::to_string(k + 1);
      CHECK((screw.sigma_turns > 0.0) == !is_held);
    }
    CHECK(correction.value().tilt_sigma_rad > 0.0);
  }
  CHECK_MESSAGE(worst < 1e-6, "every height comes back to a micrometre");
  CHECK_MESSAGE(worst < 1e-12, "today's difference is rounding");
}

TEST_CASE("a plan takes spots, leans and heights together") {
  const dish::Dish dish = support::reference_dish();
  dish::Round round{.name = "mixed", .elevation_rad = 1.1};
  for (std::size_t i = 0; i < 10; ++i)
    round.spots.push_back({dish.facets[i].id, {0.012, -0.02}, {}});
  const auto setup = align::set_up(dish, dish.facets[12]);
  REQUIRE(setup.ok());
  const Vec3 normal = leaned(setup.value().nominal.normal, 0.02, 0.0);
  for (const double edge : {0.0, 1.5})
    round.leans.push_back(lean_of(dish.facets[12], normal, edge, 1.1));
  const auto other = align::set_up(dish, dish.facets[11]);
  REQUIRE(other.ok());
  const auto heights =
      heights_of(other.value(), {8e-4, -4e-4, -4e-4}, {{0.1, 0.0}, {-0.1, 0.0}, {0.0, 0.1}});
  round.heights = heights;
  const auto plan = align::make_plan(dish, round, {});
  if (!plan) FAIL(base::to_text(plan.problems()));
  REQUIRE(plan.value().facets.size() == 12);
  CHECK(plan.value().unmeasured.size() == 24);
  CHECK(plan.value().facets[9].seen_with == align::Instrument::spot);
  CHECK(plan.value().facets[10].id == dish.facets[11].id);
  CHECK(plan.value().facets[10].seen_with == align::Instrument::height_gauge);
  CHECK(plan.value().facets[11].seen_with == align::Instrument::inclinometer);
  CHECK(plan.value().facets[11].verdict == align::Verdict::turn);
  CHECK(glm::length(plan.value().facets[11].tilt_error_rad) == doctest::Approx(0.02).epsilon(1e-3));
  CHECK(support::says(plan.value().caution, "Cover the facets"));
}

// Source: derived: the stop rule |e|^2 > 4 s^2 + 2 h^2 with an inclinometer's 1.75 mrad per axis
// and two screws of 8.33 mrad per turn at 1/12 turn: per axis s ~ 1.75 and h ~ 0.694 mrad,
// threshold sqrt(4 * 3.06 + 2 * 0.482) = 3.6 mrad near the zenith. Tolerance: 0.15 mrad for
// obliquity.
TEST_CASE("an inclinometer's own uncertainty sets its stop rule") {
  const dish::Dish dish = one_facet_dish({0.0, 0.0, 0.0});
  const auto setup = setup_of(dish);
  const auto judged = [&](double tilt) {
    const Vec3 normal = leaned(setup.nominal.normal, tilt, 0.3 * tilt);
    const align::ReadLeans read{{lean_of(dish.facets[0], normal, 0.0, 1.5),
                                 lean_of(dish.facets[0], normal, 0.5 * base::k_pi, 1.5)},
                                1.5};
    const auto correction = align::correct(dish, dish.facets[0], align::sighting_of(dish, {}),
                                           align::Observation{read}, {});
    REQUIRE(correction.ok());
    return correction.value();
  };
  CHECK(std::abs(judged(0.01).stop_threshold_rad * 1e3 - 3.6) < 0.15);
  CHECK(judged(0.01).verdict == align::Verdict::turn);
  CHECK(judged(0.003).verdict == align::Verdict::leave);
}

// 2 mm per axis and 1/12 turn of two screws.
TEST_CASE("the usual stop threshold is that of two turned screws") {
  const dish::Dish dish = one_facet_dish({0.0, 0.0, 0.0});
  const auto threshold =
      align::usual_stop_threshold(dish, dish.facets[0], align::sighting_of(dish, {}), {});
  REQUIRE(threshold.ok());
  constexpr double pin = 5.61469723936;
  support::check_outside({.what = "usual stop threshold, mm",
                          .source = "sums of variances, by hand: sqrt(4 * 2^2 + 15.5)",
                          .outside = 5.6,
                          .ours = threshold.value() * 1e3,
                          .tolerance = 0.05,
                          .why = support::k_half_digit,
                          .pin = pin});
  support::record_figure("align/usual_stop_threshold_m", threshold.value());
}

TEST_CASE("two instruments that disagree ask for another look") {
  dish::Dish dish = support::reference_dish();
  dish::Round round{.name = "both", .elevation_rad = 1.1};
  const auto setup = align::set_up(dish, dish.facets[4]);
  REQUIRE(setup.ok());
  const Vec3 normal = leaned(setup.value().nominal.normal, 0.03, 0.0);
  for (const double edge : {0.0, 1.5})
    round.leans.push_back(lean_of(dish.facets[4], normal, edge, 1.1));
  round.spots.push_back({dish.facets[4].id, {0.0, 0.0}, {}});
  const auto plan = align::make_plan(dish, round, {});
  REQUIRE(plan.ok());
  REQUIRE(plan.value().facets.size() == 1);
  CHECK(plan.value().facets[0].seen_with == align::Instrument::spot);
  CHECK(plan.value().facets[0].verdict == align::Verdict::measure_again);
  CHECK(support::says(plan.value().facets[0].verdict_text, "inclinometer disagree by 30.0 mrad"));
}
