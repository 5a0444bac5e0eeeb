// What plans make of what was learned: gains, moves that do not fit, looks at rest, backlash.
#include <doctest/doctest.h>

#include <cmath>

#include "align/learned_move.h"
#include "align/learning.h"
#include "align/plan.h"
#include "support/figures.h"
#include "support/says.h"
#include "turning.h"

namespace {

using align::Turns;
using align_test::Field;
using base::Vec2;

}  // namespace

TEST_CASE("gains are learned, and the next plan tells other turns for them") {
  Field field(support::reference_dish(), {.tilt_sigma_rad = 0.006}, 21);
  field.errors = {.spot_sigma_m = 1e-5, .turn_sigma_turns = 0.0};
  for (auto& gain : field.gain) gain = {0.9, 1.08, 1.0};
  for (int round = 0; round < 3; ++round) {
    field.look();
    for (std::size_t i = 0; i < 36; ++i) {
      Turns turns{};
      turns[static_cast<std::size_t>(round) % 3] = 1.0;
      field.turn(i, turns);
    }
  }
  field.look();
  align::PlanRequest request{.spot_sigma_m = 1e-5, .turn_sigma_turns = 1e-4};
  request.clicks_per_turn = 360;
  const dish::Round& last = field.file.rounds.back();
  const auto plan = align::make_plan(field.file, last, request);
  REQUIRE(plan.ok());
  CHECK(plan.value().doubts.empty());
  for (const align::Correction& facet : plan.value().facets) {
    CHECK(facet.screws[0].gain == doctest::Approx(0.9).epsilon(0.003));
    CHECK(facet.screws[1].gain == doctest::Approx(1.08).epsilon(0.003));
    CHECK(facet.screws[0].gain_sigma > 0.0);
    CHECK(facet.screws[0].gain_sigma < 0.01);
  }
  // Done as told, the dish ends better than with the file's own leads.
  const auto nominal = [&] {
    align::PlanRequest plain = request;
    plain.use_learning = false;
    return align::make_plan(field.file, last, plain).value();
  }();
  const auto after = [&](const align::Plan& told) {
    Field copy = field;
    for (std::size_t i = 0; i < 36; ++i) {
      Turns turns{};
      for (std::size_t k = 0; k < 3; ++k) turns[k] = told.facets[i].screws[k].clicks / 360.0;
      copy.turn(i, turns);
    }
    return copy.rms_tilt();
  };
  const double learned_rad = after(plan.value());
  const double plain_rad = after(nominal);
  CHECK(learned_rad < 0.1 * plain_rad);
  CHECK(learned_rad < 5e-5);
  support::record_figure("align/learned_rms_rad", learned_rad);
  for (const align::Correction& facet : nominal.facets) CHECK(facet.screws[0].gain == 1.0);
}

TEST_CASE("screws as in the file get the same turns whether learning is on or off") {
  Field field(support::reference_dish(), {.gain_sigma = 0.0, .tilt_sigma_rad = 0.006}, 22);
  field.look();
  const auto setup = align::set_up(field.file, field.file.facets[7]).value();
  const auto sighting = align::sighting_of(field.file, {});
  for (const auto piston :
       {align::Piston::keep_height, align::Piston::fewest_turns, align::Piston::hold_screw,
        align::Piston::least_largest_turn, align::Piston::least_squares, align::Piston::mid_range,
        align::Piston::tighten_only}) {
    const align::SolveRequest request{.piston = piston, .held = 1};
    const auto planes =
        align::solve_planes(
            setup,
            align::evidence_of(setup, sighting,
                               align::SeenSpot{field.file.rounds[0].spots[7].seen_m}, 0.002),
            {}, request)
            .value();
    const auto move = align::learned_move(setup, sighting, planes, request, {});
    REQUIRE(move.has_value());
    // The half-way response stands for the exact move: third order of the tilt.
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(std::abs(move->rise_m[k] - planes.rise_m[k]) < 3e-7);
    }
  }
}

TEST_CASE("a stuck screw is named, and its gain is not learned") {
  Field field(support::reference_dish(), {.gain_sigma = 0.0}, 23);
  field.look();
  field.gain[9] = {1.0, 0.0, 1.0};
  field.turn(9, {0.5, 1.0, 0.0});
  field.turn(10, {0.5, 1.0, 0.0});
  field.look();
  const auto plan = align::make_plan(field.file, field.file.rounds.back(), {});
  REQUIRE(plan.ok());
  REQUIRE(plan.value().doubts.size() == 1);
  const std::string& doubt = plan.value().doubts[0];
  CAPTURE(doubt);
  CHECK(support::says(doubt,
                      "Round 1, facet F10: screw 2 of F10 was turned 1 turn clockwise and "
                      "the spot did not move with it"));
  CHECK(support::says(doubt, "is it stuck, or was another turned?"));
  CHECK(plan.value().facets[9].screws[1].gain == 1.0);
  CHECK(plan.value().facets[10].screws[1].gain != 1.0);
}

TEST_CASE("a gain no working screw has is refused even where the prior would allow it") {
  Field field(support::one_facet_dish({0.5, 0.0, 0.03125}), {.gain_sigma = 0.0}, 24);
  field.gain[0] = {1.0, 0.02, 1.0};
  field.look();
  field.turn(0, {0.0, 1.0, 0.0});
  field.look();
  const auto histories = align::histories_of(
      field.file, {.rounds = 2, .sighting = align::sighting_of(field.file, {})});
  REQUIRE(histories.size() == 1);
  const auto learned =
      align::learn(field.file, histories[0], {.prior = {.along = 1.0, .across = 0.5}});
  CHECK(support::says(learned.refused[1], "Screw 2 of A1 was turned 1 turn clockwise"));
  CHECK(learned.filter.along(1) == 1.0);
}

TEST_CASE("what else may have happened is told apart") {
  const auto doubts_after = [](const Turns& logged, const Turns& really) {
    Field field(support::reference_dish(), {.gain_sigma = 0.0}, 25);
    field.look();
    field.turn(4, logged);
    field.turn(30, {0.25, 0.0, 0.0});
    field.standing_m[4] = Field(support::reference_dish(), {.gain_sigma = 0.0}, 25).standing_m[4];
    for (std::size_t k = 0; k < 3; ++k) field.standing_m[4][k] += 0.001 * really[k];
    field.look();
    const auto plan = align::make_plan(field.file, field.file.rounds.back(), {});
    REQUIRE(plan.ok());
    std::string all;
    for (const std::string& doubt : plan.value().doubts) all += doubt + "\n";
    return all;
  };
  CHECK(doubts_after({1.0, 0.5, 0.0}, {1.0, 0.5, 0.0}).empty());
  CHECK(support::says(doubts_after({1.0, 0.5, 0.0}, {-1.0, -0.5, 0.0}), "the opposite way"));
  CHECK(support::says(doubts_after({1.0, 0.5, 0.0}, {0.0, 0.0, 0.0}), "was another facet turned"));
  CHECK(support::says(doubts_after({1.0, 0.0, 0.0}, {0.0, 1.0, 0.0}), "as if screw 2"));
  CHECK(support::says(doubts_after({1.0, 0.0, 0.0}, {-1.0, 0.0, 0.0}), "the wrong way"));
  CHECK(support::says(doubts_after({0.0, 0.0, 0.0}, {0.0, 1.0, 0.0}), "was it turned after all"));
}

TEST_CASE("looks at a facet at rest average when that is wished") {
  Field field(support::reference_dish(), {}, 26);
  for (int i = 0; i < 8; ++i) field.look();
  field.file.rounds[0].turned.push_back({{"F1"}, "1", 0.0});
  align::PlanRequest request{.average_looks = true};
  const auto plan = align::make_plan(field.file, field.file.rounds.back(), request).value();
  double squares = 0.0;
  for (std::size_t i = 0; i < 36; ++i) {
    const Vec2 truth = field.spot_of(i);
    const Vec2 off = plan.facets[i].spot_error_m - truth;
    squares += glm::dot(off, off) / 72.0;
  }
  // 72 numbers of 2 mm / sqrt(8) = 0.71 mm: three sigma of their rms are 25 %.
  CHECK(std::sqrt(squares) * 1e3 == doctest::Approx(2.0 / std::sqrt(8.0)).epsilon(0.25));
}

TEST_CASE("a tracker that was set between rounds does not look like gains") {
  Field field(support::reference_dish(), {.gain_sigma = 0.0, .tilt_sigma_rad = 0.004}, 27);
  field.look();
  for (std::size_t i = 0; i < 36; ++i) field.turn(i, {0.5, -0.5, 0.0});
  field.file.rounds[0].left_out = {true, true, false, false, false, false};
  field.look();
  for (dish::Spot& spot : field.file.rounds[1].spots) spot.seen_m += Vec2{0.015, -0.02};
  const auto plan = align::make_plan(field.file, field.file.rounds[1], {}).value();
  CHECK(plan.doubts.empty());
  double mean = 0.0;
  for (const auto& facet : plan.facets) mean += facet.screws[0].gain / 36.0;
  CHECK(mean == doctest::Approx(1.0).epsilon(0.02));
  field.file.rounds[0].left_out = {};
  CHECK(align::make_plan(field.file, field.file.rounds[1], {}).value().doubts.size() > 10);
}

TEST_CASE("backlash is learned for a mount when many screws show it") {
  for (const double lost : {0.0, 0.3}) {
    Field field(support::reference_dish(), {.gain_sigma = 0.03, .tilt_sigma_rad = 0.004}, 28);
    field.look();
    for (std::size_t i = 0; i < 36; ++i) field.turn(i, {0.75, 0.75, 0.0});
    field.look();
    for (std::size_t i = 0; i < 36; ++i) {
      field.turn(i, {-1.0, 0.5, 0.0});
      field.standing_m[i][0] += 0.001 * lost;  // the first part of the way back is lost
    }
    field.look();
    const auto histories = align::histories_of(
        field.file, {.rounds = 3, .sighting = align::sighting_of(field.file, {})});
    const auto found = align::learn_backlash(field.file, histories, {});
    REQUIRE(found.size() == 1);
    CHECK(found[0].reversals == 36);
    CHECK(std::abs(found[0].turns - lost) < 4.0 * found[0].sigma_turns);
    CHECK(found[0].sigma_turns < 0.04);
    CHECK(found[0].shown == (lost > 0.0));
  }
}
