// Play of screws: what the log taught of it enters the turns that are told next.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "align/plan.h"
#include "support/figures.h"
#include "support/says.h"
#include "turning.h"

using align_test::Field;

namespace {

/// Facets that stand 4 mrad off; but for the play, all is exact.
Field field_with_play(const dish::Dish& dish, double play_turns, unsigned seed) {
  return {dish,
          {.spot_sigma_m = 1e-9,
           .turn_sigma_turns = 0.0,
           .gain_sigma = 0.0,
           .tilt_sigma_rad = 0.004,
           .play_turns = play_turns},
          seed};
}

/// After a long turn clockwise of every screw.
align::LearnedPlay fully_taken_up(double play_turns) {
  const align::PlayAhead ahead = align::play_ahead({1.0}, play_turns);
  return {play_turns, {ahead, ahead, ahead}};
}

}  // namespace

TEST_CASE("play ahead is what the flanks still leave") {
  const double play = 0.3;
  const auto check = [&](const std::vector<double>& turned, double clockwise, double back) {
    const auto ahead = align::play_ahead(turned, play);
    CHECK(ahead.clockwise == doctest::Approx(clockwise).epsilon(1e-12));
    CHECK(ahead.anticlockwise == doctest::Approx(back).epsilon(1e-12));
  };
  check({}, 0.0, 0.0);
  check({1.0}, 0.0, 0.3);
  check({-1.0}, 0.3, 0.0);
  check({1.0, -0.1}, 0.1, 0.2);
  check({1.0, -0.1, -0.1}, 0.2, 0.1);
  check({1.0, -0.1, 0.05, -0.4}, 0.3, 0.0);
  // A first turn shorter than the play: between 0.1 and 0.3 of the way across.
  check({0.1}, 0.1, 0.2);
  CHECK(align::play_ahead({1.0, -2.0}, 0.0).clockwise == 0.0);
}

TEST_CASE("a turn within the play is remembered: the next one on makes up for the rest") {
  const double play = 0.3;
  const dish::Dish dish = support::reference_dish();
  Field field = field_with_play(dish, play, 52);
  field.look();
  for (std::size_t i = 0; i < 36; ++i) field.turn(i, {1.0, 1.0, -1.0});
  for (std::size_t i = 0; i < 36; ++i) field.turn(i, {-0.1, 0.05, 0.2});
  field.look();
  align::LearnedPlay known{.turns = play};
  known.ahead = {align::play_ahead({1.0, -0.1}, play), align::play_ahead({1.0, 0.05}, play),
                 align::play_ahead({-1.0, 0.2}, play)};
  double worst = 0.0;
  for (std::size_t i = 0; i < 36; ++i) {
    const auto told = align::correct(dish, dish.facets[i], align::sighting_of(dish, {}),
                                     field.file.rounds.back().spots[i].seen_m,
                                     {.clicks_per_turn = 360, .play = known});
    REQUIRE(told.ok());
    align::Turns turns{};
    for (std::size_t k = 0; k < 3; ++k) {
      const auto& screw = told.value().screws[k];
      turns[k] = static_cast<double>(screw.clicks) / screw.clicks_per_turn;
    }
    field.turn(i, turns);
    worst = std::max(worst, glm::length(field.tilt_of(i)));
  }
  CHECK(worst < 0.08e-3);  // as above; a tenth of a turn forgotten leaves 0.8 mrad
}

TEST_CASE("a screw that is turned back is told its play as well, and then stands as told") {
  // The law: turn and turn back. Screws that have play and no spring stand, after the told clicks,
  // where the correction says; told without their play they fall short by it.
  const double play = 0.3;
  const dish::Dish dish = support::reference_dish();
  Field field = field_with_play(dish, play, 51);
  field.look();
  for (std::size_t i = 0; i < 36; ++i) field.turn(i, {1.0, 1.0, 1.0});
  field.look();
  const Field before = field;
  for (const bool knows : {true, false}) {
    field = before;
    double worst = 0.0;
    std::size_t reversed = 0;
    for (std::size_t i = 0; i < 36; ++i) {
      align::CorrectionRequest request{.clicks_per_turn = 360};
      if (knows) request.play = fully_taken_up(play);
      const auto told = align::correct(dish, dish.facets[i], align::sighting_of(dish, {}),
                                       field.file.rounds.back().spots[i].seen_m, request);
      REQUIRE(told.ok());
      align::Turns turns{};
      for (std::size_t k = 0; k < 3; ++k) {
        const auto& screw = told.value().screws[k];
        turns[k] = static_cast<double>(screw.clicks) / screw.clicks_per_turn;
        reversed += screw.clicks < 0 ? 1 : 0;
        CHECK((screw.lost_turns != 0.0) == (knows && screw.clicks < 0));
        CHECK(support::says(screw.finish.text, "play takes the first 108 clicks") ==
              (screw.lost_turns != 0.0));
      }
      field.turn(i, turns);
      worst = std::max(worst, glm::length(field.tilt_of(i)));
    }
    CHECK(reversed > 20);
    // A click of 1/360 turn is 0.02 mrad, the aim moves by 0.04 mrad as the facet comes out with
    // its screws, 0.3 of a turn is 2.5 mrad.
    if (knows) CHECK(worst < 0.08e-3);
    if (!knows) CHECK(worst > 2.0e-3);
  }
}

TEST_CASE("with a spring, play makes the way beyond and back longer and the told clicks stay") {
  dish::Dish dish = support::reference_dish();
  dish.springs.push_back({.name = {"coil"}, .free_length_m = 0.06, .installed_length_m = 0.04});
  dish.mounts[0].spring = {"coil"};
  const auto sighting = align::sighting_of(dish, {});
  const auto told = [&](const align::LearnedPlay& play) {
    return align::correct(dish, dish.facets[3], sighting, base::Vec2{0.02, -0.035}, {.play = play})
        .value();
  };
  const auto plain = told({});
  const auto played = told(fully_taken_up(0.25));
  int beyond = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(played.screws[k].clicks == plain.screws[k].clicks);
    CHECK(played.screws[k].lost_turns == 0.0);
    CHECK(played.screws[k].after_m == plain.screws[k].after_m);
    const int more = played.screws[k].finish.beyond_clicks - plain.screws[k].finish.beyond_clicks;
    CHECK(more == (plain.screws[k].finish.beyond_clicks > 0 ? 3 : 0));
    beyond += plain.screws[k].finish.beyond_clicks;
  }
  CHECK(beyond > 0);
}

namespace {

constexpr double k_fine_sigma_m = 0.001;
constexpr double k_fine_turns = 1.0 / 36.0;

/// One round as the plan tells it.
void turn_as_planned(Field& field) {
  field.look();
  const auto plan =
      align::make_plan(
          field.file, field.file.rounds.back(),
          {.clicks_per_turn = 36, .spot_sigma_m = k_fine_sigma_m, .turn_sigma_turns = k_fine_turns})
          .value();
  for (std::size_t i = 0; i < plan.facets.size(); ++i) {
    if (plan.facets[i].verdict != align::Verdict::turn) continue;
    align::Turns turns{};
    for (std::size_t k = 0; k < 3; ++k) turns[k] = plan.facets[i].screws[k].clicks / 36.0;
    field.turn(i, turns);
  }
}

/// Rms tilt after the first round of a third year: each year three rounds, and the winter moves the
/// dish. Only turns beyond the play show how large it is, so the second year teaches most of it.
double in_the_third_year(double play_turns, unsigned seed) {
  Field field(support::reference_dish(),
              {.spot_sigma_m = k_fine_sigma_m,
               .turn_sigma_turns = k_fine_turns,
               .tilt_sigma_rad = 0.003,
               .play_turns = play_turns},
              seed);
  for (unsigned year = 1; year < 3; ++year) {
    for (int round = 0; round < 3; ++round) turn_as_planned(field);
    field.look();
    const Field moved(support::reference_dish(), {.tilt_sigma_rad = 0.003}, seed + 1000 * year);
    for (std::size_t i = 0; i < 36; ++i) {
      for (std::size_t k = 0; k < 3; ++k) field.standing_m[i][k] += moved.standing_m[i][k];
    }
  }
  turn_as_planned(field);
  return field.rms_tilt();
}

}  // namespace

TEST_CASE("a round on screws with play comes closer because it is told to make up for it") {
  // Rms of eight dishes after the round, 0.3 of a turn of play: 2.02 mrad when the plan did not
  // tell it, 0.87 mrad now, 0.49 mrad without any play.
  double squares = 0.0;
  double without = 0.0;
  constexpr unsigned k_dishes = 8;
  for (unsigned trial = 0; trial < k_dishes; ++trial) {
    squares += 1e6 * base::square(in_the_third_year(0.3, 60 + trial)) / k_dishes;
    without += 1e6 * base::square(in_the_third_year(0.0, 60 + trial)) / k_dishes;
  }
  const double left_mrad = std::sqrt(squares);
  CAPTURE(left_mrad);
  CAPTURE(std::sqrt(without));
  CHECK(left_mrad < 1.1);
  CHECK(std::sqrt(without) < left_mrad);
  support::record_figure("align/play_left_mrad", left_mrad);
}
