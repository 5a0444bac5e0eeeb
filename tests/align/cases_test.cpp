// The worked cases P1 to P6: canting and caliper heights, corrections, piston, common modes and a
// homography, against numbers found by an independent program (see the file's own source line).
// Tolerances are the file's: 1e-9 for normals, 1e-6 mm, 1e-6 turns, 1e-7 of fitted parameters.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <cmath>

#include "adjusters/preset.h"
#include "align/common.h"
#include "align/correct.h"
#include "align/facet_setup.h"
#include "align/observe.h"
#include "align/piston.h"
#include "align/solve.h"
#include "base/units.h"
#include "cases.h"
#include "optics/canting.h"
#include "photo/homography.h"
#include "support/figures.h"
#include "support/outside.h"
#include "support/reference_dish.h"

namespace {

using align_test::direction;
using align_test::pair_m;
using align_test::point_m;
using align_test::worked_case;
using base::Vec2;
using base::Vec3;
using nlohmann::json;

void near(double ours, double theirs, double tolerance) {
  CAPTURE(ours);
  CAPTURE(theirs);
  CHECK(std::abs(ours - theirs) <= tolerance);
}

void near(const Vec3& ours, const json& theirs, double tolerance) {
  CHECK(glm::distance(ours, direction(theirs)) <= tolerance);
}

/// A number of the file, with what the case allows.
void check_case(const std::string& id, const std::string& what, double ours, double theirs,
                double tolerance, double pin) {
  support::check_outside(
      {.what = fmt::format("{}: {}", id, what),
       .source =
           fmt::format("independent program, tests/references/align/alignment-cases.json: {}", id),
       .outside = theirs,
       .ours = ours,
       .tolerance = tolerance,
       .why = "the case's own: rounding through another order of sums",
       .pin = pin});
}

dish::Mount mount_of(const json& inputs) {
  dish::Mount mount{.name = {"plate"},
                    .face_offset_m = inputs.at("face_offset_t").get<double>() / 1e3};
  for (const json& screw : inputs.at("adjusters")) {
    dish::Adjuster adjuster{.label = std::to_string(mount.adjusters.size() + 1),
                            .x_m = pair_m(screw.at("xy")).x,
                            .y_m = pair_m(screw.at("xy")).y,
                            .travel_min_m = -1.0,
                            .travel_max_m = 1.0};
    if (screw.contains("lead")) {
      adjuster.pitch_m = screw.at("lead").get<double>() / 1e3;
      adjuster.hand = screw.at("hand") == "right" ? dish::Hand::right : dish::Hand::left;
      adjuster.carry = screw.at("carry") == "with" ? dish::Carry::with : dish::Carry::against;
    }
    mount.adjusters.push_back(adjuster);
  }
  return mount;
}

/// A dish of one facet whose aim point lies on a receiver that faces the dish.
dish::Dish dish_of(const json& inputs) {
  dish::Dish dish = support::one_facet_dish(point_m(inputs.at("facet_center")));
  dish.mounts = {mount_of(inputs)};
  const json& bracket = inputs.at("bracket");
  dish.facets[0].bracket = dish::Bracket{.origin_m = point_m(bracket.at("origin")),
                                         .x = direction(bracket.at("bx")),
                                         .y = direction(bracket.at("by"))};
  dish.receiver.centre_m = {0.0, 0.0, point_m(inputs.at("aim_point")).z};
  // Someone who faces the receiver from the dish sees +x on the left.
  const Vec3 aim = point_m(inputs.at("aim_point"));
  dish.facets[0].aim_m = {-aim.x, aim.y};
  return dish;
}

/// The case's board axes are as seen from the sun; ours as seen by someone who faces the lit side.
dish::Round round_of(const json& inputs) {
  const json& plane = inputs.at("target_plane");
  const Vec3 tx = direction(plane.at("tx"));
  const Vec3 ty = direction(plane.at("ty"));
  const Vec3 sun = direction(inputs.at("source").at("dir"));
  const Vec2 spot = pair_m(inputs.at("spot_pq"));
  return {.source = dish::SunSource{{sun.x / sun.z, sun.y / sun.z}},
          .board = dish::Board{.centre_m = point_m(plane.at("origin")),
                               .lit_normal = -glm::cross(tx, ty),
                               .up = ty},
          .spots = {{.facet = {"A1"}, .seen_m = {-spot.x, spot.y}}}};
}

void check_correction(const std::string& id, const align::CorrectionRequest& request,
                      const std::array<double, 6>& pins) {
  const json one = worked_case(id);
  const json& inputs = one.at("inputs");
  const json& expected = one.at("expected");
  const dish::Dish dish = dish_of(inputs);
  const dish::Round round = round_of(inputs);
  const auto sighting = align::sighting_of(dish, round);
  const auto corrected =
      align::correct(dish, dish.facets[0], sighting, round.spots[0].seen_m, request);
  REQUIRE(corrected.ok());
  const align::Correction& correction = corrected.value();

  near(base::point_to_outer(sighting.dish_from_board, Vec3(round.spots[0].seen_m, 0.0)) * 1e3,
       expected.at("spot_point"), 1e-6);
  near(correction.actual.normal, expected.at("n_actual"), 1e-9);
  near(correction.desired.normal, expected.at("n_desired"), 1e-9);
  const double tilt_mrad = glm::length(correction.tilt_error_rad) * 1e3;
  check_case(id, "tilt, mrad", tilt_mrad, expected.at("tilt_angle_mrad").get<double>(), 1e-6,
             pins[0]);
  // Their rotation leads from the actual to the desired normal, ours back.
  const Vec3 rotation = -direction(expected.at("rotation_vector_rad"));
  const base::Mat3 frame = base::frame_of_normal(direction(expected.at("n_desired")));
  near(correction.tilt_error_rad.x, glm::dot(rotation, frame[0]), 1e-9);
  near(correction.tilt_error_rad.y, glm::dot(rotation, frame[1]), 1e-9);
  for (std::size_t k = 0; k < 3; ++k) {
    const align::ScrewCorrection& screw = correction.screws[k];
    CAPTURE(k);
    near(screw.displacement_m * 1e3, expected.at("dh_mm").at(k).get<double>(), 1e-6);
    check_case(id, "turns of screw " + screw.label, screw.turns,
               expected.at("turns_clockwise").at(k).get<double>(), 1e-6, pins[k + 1]);
    near(screw.displacement_m / (screw.turns == 0.0 ? 1.0 : screw.turns) * 1e3,
         screw.turns == 0.0 ? 0.0 : expected.at("height_per_turn_mm").at(k).get<double>(), 1e-9);
    support::record_figure("align/" + id + "_turns_" + screw.label, screw.turns);
  }
  const auto setup = align::set_up(dish, dish.facets[0]);
  REQUIRE(setup.ok());
  const auto slopes = adjusters::slopes_of_normal(setup.value().bracket, correction.actual.normal);
  check_case(id, "slope along x", slopes.x, expected.at("slopes_actual").at(0).get<double>(), 1e-9,
             pins[4]);
  check_case(id, "slope along y", slopes.y, expected.at("slopes_actual").at(1).get<double>(), 1e-9,
             pins[5]);
  support::record_figure("align/" + id + "_tilt_mrad", tilt_mrad);
}

}  // namespace

TEST_CASE("P1: canting at prime focus and caliper heights over a flat bracket") {
  const json one = worked_case("P1");
  const json& expected = one.at("expected");
  const dish::Dish dish = dish_of(one.at("inputs"));
  const auto nominal = optics::nominal_pose(dish, dish.facets[0]);
  REQUIRE(nominal.ok());
  near(nominal.value().normal, expected.at("normal"), 1e-9);
  constexpr double pins[6] = {10.6196552762, 47.1033845529, 23.2110797075,
                              43.9956893983, 0.15,          0.1125};
  check_case("P1", "cant, deg", base::deg_from_rad(std::acos(nominal.value().normal.z)),
             expected.at("cant_deg").get<double>(), 1e-9, pins[0]);
  const auto out =
      optics::direction_to_target(dish, dish.facets[0].centre_m, dish.receiver.centre_m);
  REQUIRE(out.ok());
  near(out.value(), expected.at("outgoing"), 1e-9);
  const auto preset = adjusters::preset_of(dish, dish.facets[0], nominal.value());
  REQUIRE(preset.ok());
  for (std::size_t k = 0; k < 3; ++k) {
    const double height_mm = preset.value().screws[k].height_m * 1e3;
    check_case("P1", "caliper height " + std::to_string(k) + ", mm", height_mm,
               expected.at("heights_mm").at(k).get<double>(), 1e-6, pins[k + 1]);
    support::record_figure("align/P1_height_mm_" + std::to_string(k), height_mm);
  }
  const auto bracket = adjusters::bracket_of(dish.facets[0], &dish.mounts[0], nominal.value());
  REQUIRE(bracket.ok());
  const auto slopes = adjusters::slopes_of_normal(bracket.value(), nominal.value().normal);
  check_case("P1", "slope along x", slopes.x, expected.at("slopes_in_bracket").at(0).get<double>(),
             1e-9, pins[4]);
  check_case("P1", "slope along y", slopes.y, expected.at("slopes_in_bracket").at(1).get<double>(),
             1e-9, pins[5]);
}

TEST_CASE("P2: a sun spot on a board in the focal plane, height kept") {
  constexpr std::array<double, 6> pins{9.43367129315,  -0.400001092438,   -0.35425267137,
                                       0.754253763808, -0.00799995610935, 0.00500001365548};
  check_correction("P2", {.piston = align::Piston::keep_height, .pivot = align::Pivot::fixed},
                   pins);
}

TEST_CASE("P3: pointing error, slanted board, mixed screws, the second held") {
  constexpr std::array<double, 6> pins{12.5293144358, -0.637004051121,  -0,
                                       1.35040117701, 0.00600002549354, -0.0109999929559};
  check_correction(
      "P3", {.piston = align::Piston::hold_screw, .held_screw = "2", .pivot = align::Pivot::fixed},
      pins);
}

// The file's clicks are each screw's nearest. Ours are chosen together: for P2 they are the same,
// for P3 nothing better is within a click of them.
TEST_CASE("P2 and P3: whole clicks") {
  for (const std::string id : {"P2", "P3"}) {
    const json one = worked_case(id);
    const dish::Dish dish = dish_of(one.at("inputs"));
    const dish::Round round = round_of(one.at("inputs"));
    const bool holds = id == "P3";
    const auto corrected =
        align::correct(dish, dish.facets[0], align::sighting_of(dish, round), round.spots[0].seen_m,
                       {.piston = holds ? align::Piston::hold_screw : align::Piston::keep_height,
                        .held_screw = "2",
                        .pivot = align::Pivot::fixed});
    REQUIRE(corrected.ok());
    for (std::size_t k = 0; k < 3; ++k) {
      const int nearest = one.at("expected").at("clicks_of_12").at(k).get<int>();
      CHECK(std::abs(corrected.value().screws[k].clicks - nearest) <= 1);
    }
  }
}

TEST_CASE("P4: every convention of the third freedom, within the range") {
  using align::Piston;
  const json one = worked_case("P4");
  const json& inputs = one.at("inputs");
  const json& expected = one.at("expected");
  align::PistonQuestion question{.labels = {"1", "2", "3"}};
  for (std::size_t k = 0; k < 3; ++k) {
    question.rise_m[k] = inputs.at("d_mm").at(k).get<double>() / 1e3;
    question.lead_m[k] = inputs.at("lead_mm").at(k).get<double>() / 1e3;
    question.now_m[k] = inputs.at("h_now_mm").at(k).get<double>() / 1e3;
    question.range[k] = {inputs.at("h_min_mm").at(k).get<double>() / 1e3,
                         inputs.at("h_max_mm").at(k).get<double>() / 1e3};
  }
  struct Row {
    const char* name;
    Piston piston;
    std::size_t held;
    int loading;
  };
  const Row rows[] = {{"centre", Piston::keep_height, 0, -1},
                      {"hold_0", Piston::hold_screw, 0, -1},
                      {"hold_1", Piston::hold_screw, 1, -1},
                      {"hold_2", Piston::hold_screw, 2, -1},
                      {"min_total", Piston::fewest_turns, 0, -1},
                      {"min_max", Piston::least_largest_turn, 0, -1},
                      {"min_sq", Piston::least_squares, 0, -1},
                      {"tighten_only_minus", Piston::tighten_only, 0, -1},
                      {"tighten_only_plus", Piston::tighten_only, 0, 1},
                      {"mid_range", Piston::mid_range, 0, -1}};
  constexpr double pins[10] = {0,    -1.7, 0.7, 1.1, 0.7, -0.388888888889, 0.0480093676815,
                               -1.7, 1.1,  -0.3};
  for (std::size_t n = 0; n < std::size(rows); ++n) {
    const Row& row = rows[n];
    CAPTURE(row.name);
    question.piston = row.piston;
    question.held = row.held;
    question.loading = row.loading;
    const auto choice = align::choose_piston(question);
    const json& theirs = expected.at(row.name);
    near(choice.wished_m * 1e3, theirs.at("c_unclipped").get<double>(), 1e-9);
    check_case("P4", std::string(row.name) + ", mm", choice.chosen_m * 1e3,
               theirs.at("c").get<double>(), 1e-9, pins[n]);
    near(choice.feasible.least * 1e3, expected.at("interval").at("lo").get<double>(), 1e-9);
    near(choice.feasible.most * 1e3, expected.at("interval").at("hi").get<double>(), 1e-9);
    for (std::size_t k = 0; k < 3; ++k) {
      const double dh_mm = (question.rise_m[k] + choice.chosen_m) * 1e3;
      near(dh_mm, theirs.at("dh").at(k).get<double>(), 1e-9);
      near(std::abs(dh_mm) / (question.lead_m[k] * 1e3), theirs.at("turns_abs").at(k).get<double>(),
           1e-9);
    }
    const bool clipped = theirs.at("c") != theirs.at("c_unclipped");
    CHECK(choice.unmet.empty() == !clipped);
    support::record_figure(std::string("align/P4_") + row.name, choice.chosen_m);
  }
}

TEST_CASE("P5: a picture of four marks gives places on the board") {
  const json one = worked_case("P5");
  const json& inputs = one.at("inputs");
  std::vector<photo::MarkPair> marks;
  for (std::size_t k = 0; k < 4; ++k) {
    marks.push_back(
        {pair_m(inputs.at("image_px").at(k)) * 1e3, pair_m(inputs.at("board_mm").at(k))});
  }
  const auto homography = photo::homography_through(marks);
  REQUIRE(homography.ok());
  const json& h = one.at("expected").at("H");
  for (int row = 0; row < 3; ++row) {
    for (int column = 0; column < 3; ++column) {
      // Ours maps to metres: the first two rows are a thousandth of theirs.
      const double theirs = h.at(row).at(column).get<double>() * (row < 2 ? 1e-3 : 1.0);
      near(homography.value().board_from_image[column][row], theirs, 1e-8 * std::abs(theirs));
    }
  }
  constexpr double pins[3][2] = {{-16.7971276914, 47.0669052203},
                                 {-183.278208731, 197.193261219},
                                 {232.423275782, -198.089367299}};
  for (std::size_t k = 0; k < 3; ++k) {
    const auto place =
        photo::to_board(homography.value(), pair_m(inputs.at("query_px").at(k)) * 1e3);
    REQUIRE(place.has_value());
    const json& theirs = one.at("expected").at("board_points").at(k);
    const std::string name = "place " + std::to_string(k) + " on the board, ";
    check_case("P5", name + "right, mm", place->x * 1e3, theirs.at(0).get<double>(), 1e-6,
               pins[k][0]);
    check_case("P5", name + "up, mm", place->y * 1e3, theirs.at(1).get<double>(), 1e-6, pins[k][1]);
    support::record_figure("align/P5_board_x_" + std::to_string(k), place->x);
  }
}

TEST_CASE("P6: six common modes of twelve facets, one of them wrong") {
  const json one = worked_case("P6");
  const json& inputs = one.at("inputs");
  std::vector<Vec2> places;
  std::vector<Vec2> residuals;
  for (const json& place : inputs.at("facets_xy")) places.push_back(pair_m(place));
  for (const json& residual : inputs.at("residual_pq_mm")) residuals.push_back(pair_m(residual));
  const char* names[] = {"bx", "by", "radial", "swirl", "astig0", "astig45"};
  const std::pair<const char*, align::Estimator> estimators[] = {
      {"ls", align::Estimator::least_squares},
      {"huber", align::Estimator::huber},
      {"tukey", align::Estimator::tukey}};
  constexpr double pins[3][7] = {
      {8.80500162191, -5.92264507555, -0.0122166231837, 0.000896333680265, 0.00695047522476,
       -0.00100360594577, 9.25175454008},
      {6.16357775805, -4.5146836176, -0.0108066356824, 0.0033208588809, 0.00565519145642,
       -0.00364305601455, 0.710070766596},
      {6.08984919257, -4.45555560087, -0.0107027999637, 0.00342128743246, 0.00563314239959,
       -0.00374427538878, 0.745621839734}};
  for (std::size_t n = 0; n < std::size(estimators); ++n) {
    const std::string name = estimators[n].first;
    const align::Estimator estimator = estimators[n].second;
    CAPTURE(name);
    const auto fit = align::fit_modes(places, residuals, estimator);
    REQUIRE(fit.ok());
    const json& theirs = one.at("expected").at(name);
    for (std::size_t m = 0; m < 6; ++m) {
      CAPTURE(m);
      const double to_file = m < 2 ? 1e3 : 1.0;
      const double value = theirs.at("params").at(names[m]).get<double>();
      const double sigma = theirs.at("sd").at(names[m]).get<double>();
      check_case("P6", name + ", " + names[m], fit.value().value[m] * to_file, value,
                 1e-7 * std::abs(value), pins[n][m]);
      near(fit.value().sigma[m] * to_file, sigma, 1e-6 * sigma);
    }
    const double scale = theirs.at("scale").get<double>();
    check_case("P6", name + ", scale, mm", fit.value().scale_m * 1e3, scale, 1e-6 * scale,
               pins[n][6]);
    for (std::size_t i = 0; i < places.size(); ++i) {
      near(fit.value().weights[i], theirs.at("weights").at(i).get<double>(), 1e-6);
    }
    support::record_figure(std::string("align/P6_radial_") + name, fit.value().value[2]);
  }
}
