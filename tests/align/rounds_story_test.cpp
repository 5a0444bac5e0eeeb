// The story of a log: what was expected, what came, and what is still to be had.
#include "align/rounds_story.h"

#include <doctest/doctest.h>

#include <cmath>

#include "align/put_right.h"
#include "base/units.h"
#include "dish/edit.h"
#include "support/figures.h"
#include "support/says.h"
#include "turning.h"

namespace {

using align::Turns;
using align_test::Errors;
using align_test::Field;

/// A person who turns what the plan tells, or every facet whatever the stop rule says.
void carry_out(Field& field, bool with_stop_rule) {
  align::PlanRequest request;
  const auto plan = align::make_plan(field.file, field.file.rounds.back(), request).value();
  for (std::size_t i = 0; i < plan.facets.size(); ++i) {
    if (with_stop_rule && plan.facets[i].verdict != align::Verdict::turn) continue;
    Turns turns{};
    for (std::size_t k = 0; k < 3; ++k) {
      turns[k] = plan.facets[i].screws[k].clicks / 12.0;
    }
    field.turn(i, turns);
  }
}

/// Rms tilt after each of three rounds, over several dishes.
std::array<double, 3> three_rounds(bool with_stop_rule, int dishes) {
  std::array<double, 3> squares{};
  for (int trial = 0; trial < dishes; ++trial) {
    Field field(support::reference_dish(), {.uniform_5_20 = true},
                static_cast<unsigned>(500 + trial));
    for (std::size_t round = 0; round < 3; ++round) {
      field.look();
      carry_out(field, with_stop_rule);
      squares[round] += std::pow(field.rms_tilt() * 1e3, 2) / dishes;
    }
  }
  for (double& square : squares) square = std::sqrt(square);
  return squares;
}

align::RoundsStory story_of(const dish::Dish& dish, bool watts = false) {
  auto story = align::tell_rounds(dish, {.watts = watts});
  if (!story.ok()) FAIL(base::to_text(story.problems()));
  return std::move(story).value();
}

Field aligned_twice(unsigned seed) {
  Field field(support::reference_dish(), {.uniform_5_20 = true}, seed);
  // The plans take the sun's spot as a whole facet's middle; these spots are centre rays'.
  for (int round = 0; round < 2; ++round) {
    field.look();
    field.file.rounds.back().source = dish::LaserSource{};
    carry_out(field, true);
  }
  field.look();
  field.file.rounds.back().source = dish::LaserSource{};
  return field;
}

}  // namespace

// Source: the alignment page, section on gain errors: e' = gamma e + floor; from 13 mrad to 1.25
// mrad gamma 0.03: 1 round, 0.1: 2, 0.3: 2, 0.5: 4. Integers: tolerance 0, difference 0.
TEST_CASE("the number of rounds follows from the gain error") {
  CHECK(align::rounds_needed(0.013, 0.00125, 0.03) == 1);
  CHECK(align::rounds_needed(0.013, 0.00125, 0.1) == 2);
  CHECK(align::rounds_needed(0.013, 0.00125, 0.3) == 2);
  CHECK(align::rounds_needed(0.013, 0.00125, 0.5) == 4);
  CHECK(align::rounds_needed(0.001, 0.00125, 0.5) == 0);
  CHECK(align::rounds_needed(0.013, 0.0, 0.5) == 0);
  CHECK(align::rounds_needed(0.013, 0.00125, 0.0) == 1);
}

// Source: the same page: per axis floor^2 = 0.5^2 + 0.694^2 + 0.2^2 = 0.88^2 mrad, both axes 1.25
// (simulated 1.26). Tolerance 3 %: the lever differs over the dish and whole clicks fall by chance.
TEST_CASE("the floor of a round is what reading, hands and clicks leave") {
  Field field(support::reference_dish(), {.uniform_5_20 = true}, 51);
  field.look();
  const auto story = story_of(field.file);
  CHECK(base::mrad_from_rad(story.convergence.floor_rad) == doctest::Approx(1.25).epsilon(0.05));
  support::record_figure("align/floor_mrad", base::mrad_from_rad(story.convergence.floor_rad));
}

// Source: the same page: with the stop rule 1.26 -> 1.02 -> 0.94 mrad over three rounds, turning
// all facets every round 1.26 -> 1.09 -> 1.07 (2 mm, 1/12 turn, 3 % gain, 5 to 20 mrad; 150
// trials); the table of schemes has 1.28 1.02 0.93 one by one. Tolerance: 24 dishes of 36 facets,
// 1/sqrt(2 * 24 * 36) = 2.4 % per sigma, two sigma.
TEST_CASE("the stop rule leaves less than turning everything every round") {
  const auto stopped = three_rounds(true, 24);
  const auto all = three_rounds(false, 24);
  CHECK(stopped[0] == doctest::Approx(1.27).epsilon(0.05));
  CHECK(stopped[1] == doctest::Approx(1.02).epsilon(0.05));
  CHECK(stopped[2] == doctest::Approx(0.94).epsilon(0.05));
  CHECK(all[0] == doctest::Approx(1.26).epsilon(0.05));
  CHECK(all[1] == doctest::Approx(1.09).epsilon(0.05));
  CHECK(all[2] == doctest::Approx(1.07).epsilon(0.05));
  CHECK(stopped[2] < 0.95 * all[2]);
  for (std::size_t round = 0; round < 3; ++round) {
    const std::string name = "align/one_by_one_round_" + std::to_string(round + 1) + "_mrad";
    support::record_figure(name, stopped[round]);
    support::record_figure(name + "_all", all[round]);
  }
}

TEST_CASE("a log is told with what was expected and what came") {
  const Field field = aligned_twice(52);
  const auto story = story_of(field.file);
  REQUIRE(story.rounds.size() == 3);
  CHECK(story.rounds[0].seen == 36);
  CHECK(story.rounds[0].turned > 30);
  CHECK(story.rounds[0].turns == doctest::Approx(57.0).epsilon(0.2));
  CHECK(base::mrad_from_rad(story.rounds[0].rms_tilt_rad) == doctest::Approx(13.2).epsilon(0.1));
  CHECK(story.rounds[1].rms_tilt_rad < 0.15 * story.rounds[0].rms_tilt_rad);
  // What was expected is where the spot came to lie, within hands, reading and gains.
  double squares = 0.0;
  for (const auto& facet : story.rounds[1].facets) {
    REQUIRE(facet.expected_error_m.has_value());
    const base::Vec2 off = *facet.expected_error_m - facet.seen_error_m;
    squares += glm::dot(off, off) / 72.0;
  }
  CHECK(std::sqrt(squares) > 0.002);
  CHECK(std::sqrt(squares) < 0.006);
  CHECK(!story.rounds[0].facets[0].expected_error_m.has_value());
  CHECK(story.doubts.size() <= 1);  // one move in a thousand surprises
  CHECK(story.swaps.empty());
  REQUIRE(story.labels.size() == 1);
  CHECK(story.labels[0].best == 0);
  CHECK(std::abs(story.convergence.gain_error) < 0.05);
  CHECK(story.convergence.gamma < 0.1);
  CHECK(story.convergence.moves > 36);
}

TEST_CASE("one round more is reckoned in watts with the light itself") {
  Field field(support::reference_dish(), {.uniform_5_20 = true}, 53);
  field.file.receiver.shape = dish::DiscReceiver{0.06};
  field.look();
  field.file.rounds.back().source = dish::LaserSource{};
  const auto far = story_of(field.file, true);
  REQUIRE(far.outlook.now_W.has_value());
  CHECK(*far.outlook.now_W < 0.8 * *far.outlook.perfect_W);
  CHECK(*far.outlook.after_W > 0.9 * *far.outlook.perfect_W);
  CHECK(*far.outlook.after_W < *far.outlook.perfect_W);
  CHECK(far.outlook.now_rad > 8.0 * far.outlook.after_rad);
  CHECK(support::says(far.verdict, "Turn "));
  CHECK(support::says(far.verdict, "one round more about"));
  // The same log tells the same story to the last bit.
  CHECK(*story_of(field.file, true).outlook.after_W == *far.outlook.after_W);
}

TEST_CASE("what was done wrongly can be put right in the log, and the doubt goes") {
  Field field(support::reference_dish(), {.gain_sigma = 0.0, .tilt_sigma_rad = 0.004}, 54);
  field.look();
  const auto before = field.standing_m[3];
  field.turn(3, {1.0, 0.0, 0.0});
  field.standing_m[3] = before;
  field.standing_m[3][0] -= 0.001;  // really the wrong way
  field.look();
  const dish::FacetId id = field.file.facets[3].id;
  REQUIRE(story_of(field.file).doubts.size() == 1);
  CHECK(support::says(story_of(field.file).doubts[0], "the wrong way"));

  const auto wish = align::turned_wrong_way(field.file, 0, id);
  REQUIRE(wish.ok());
  REQUIRE(wish.value().moved.has_value());
  CHECK(wish.value().moved->displacement_m[0] == doctest::Approx(-0.002));
  const auto mended = dish::apply(field.file, wish.value());
  REQUIRE(mended.ok());
  CHECK(mended.value().rounds[0].turned[0].turns == -1.0);
  CHECK(mended.value().rounds[0].told[0].turns == 1.0);
  CHECK(story_of(mended.value()).doubts.empty());

  const auto other = align::turned_other_screw(field.file, 0, id, "1", "2");
  REQUIRE(other.ok());
  CHECK(other.value().turned[0].screw == "2");
  CHECK(other.value().moved->displacement_m[1] == doctest::Approx(0.001));
  CHECK(!align::turned_other_screw(field.file, 0, id, "3", "2").ok());
  CHECK(!align::turned_wrong_way(field.file, 5, id).ok());
  const auto none = align::not_turned(field.file, 0, id);
  REQUIRE(none.ok());
  CHECK(none.value().turned.empty());
  CHECK(none.value().moved->displacement_m[0] == doctest::Approx(-0.001));

  // A later round already told where the screws stand: only the log changes then.
  field.file.rounds[1].turned.push_back({id, "1", 0.25});
  CHECK(!align::turned_wrong_way(field.file, 0, id).value().moved.has_value());
  const auto back = align::take_back_last(field.file);
  REQUIRE(back.ok());
  REQUIRE(back.value().moved.size() == 1);
  CHECK(back.value().moved[0].displacement_m[0] == doctest::Approx(-0.00025));
  CHECK(dish::apply(field.file, back.value()).value().rounds.size() == 1);
  CHECK(!align::tell_rounds(support::reference_dish(), {}).ok());
}
