// Turns, clicks and their words.
#include "adjusters/turns.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "support/figures.h"

namespace {

using adjusters::amount_text;
using adjusters::ClickQuestion;
using adjusters::turn_text;
using base::Vec2;
using dish::Side;

const double k_s = std::sqrt(3.0) / 2.0;
const adjusters::Interval k_wide{-1.0, 1.0};

ClickQuestion even_circle(const std::array<double, 3>& rise_m) {
  return {.bracket = {.seats_m = {Vec2{0.0, 0.08}, {-0.08 * k_s, -0.04}, {0.08 * k_s, -0.04}}},
          .rise_per_turn_m = {0.001, 0.001, 0.001},
          .rise_m = rise_m,
          .range = {k_wide, k_wide, k_wide}};
}

double slope_error(const ClickQuestion& q, const std::array<int, 3>& clicks) {
  adjusters::Heights left{};
  for (std::size_t k = 0; k < 3; ++k) {
    left[k] = clicks[k] * q.rise_per_turn_m[k] / q.clicks_per_turn - q.rise_m[k];
  }
  const auto plane = adjusters::plane_through(q.bracket, left);
  return std::hypot(plane.alpha, plane.beta);
}

}  // namespace

TEST_CASE("three screws are rounded together, never worse than each to its nearest click") {
  std::mt19937 engine(7);
  const auto random = [&] { return static_cast<double>(engine()) / 4294967296.0 - 0.5; };
  int better = 0;
  for (int trial = 0; trial < 300; ++trial) {
    auto question = even_circle({random() * 2e-3, random() * 2e-3, random() * 2e-3});
    question.rise_per_turn_m = {0.001, -0.0008, trial % 2 == 0 ? 0.00125 : -0.0005};
    question.clicks_per_turn = trial % 3 == 0 ? 24 : 12;
    const auto answer = adjusters::round_to_clicks(question);
    std::array<int, 3> nearest{};
    for (std::size_t k = 0; k < 3; ++k) {
      const double exact =
          question.rise_m[k] / question.rise_per_turn_m[k] * question.clicks_per_turn;
      nearest[k] = static_cast<int>(std::lround(exact));
      CHECK(std::abs(answer.clicks[k] - exact) < 1.0);
    }
    CHECK(answer.slope_error_rad == doctest::Approx(slope_error(question, answer.clicks)));
    CHECK(answer.slope_error_rad <= slope_error(question, nearest) + 1e-12);
    better += answer.slope_error_rad < slope_error(question, nearest) - 1e-9 ? 1 : 0;
  }
  CHECK_MESSAGE(better > 30, "the nearest click of each screw is often not best");
  support::record_figure("adjusters/joint_rounding_wins", better);
}

TEST_CASE("whole numbers of clicks stay, and a held screw is not touched") {
  const auto whole = adjusters::round_to_clicks(even_circle({5e-3 / 12, 0.0, -2e-3 / 12}));
  CHECK(whole.clicks == std::array<int, 3>{5, 0, -2});
  CHECK(whole.slope_error_rad < 1e-15);
  const auto held = adjusters::round_to_clicks(even_circle({0.37e-3, 1e-15, -0.61e-3}));
  CHECK(held.clicks[1] == 0);
}

TEST_CASE("rounding keeps a screw within its range when it can") {
  auto question = even_circle({0.96e-3, 0.0, 0.0});
  const auto free = adjusters::round_to_clicks(question);
  CHECK(free.clicks[0] == 12);
  question.range[0] = {-1e-3, 0.98e-3};
  CHECK(adjusters::round_to_clicks(question).clicks[0] == 11);
  question.range[0] = {-1e-3, 0.1e-3};
  CHECK_MESSAGE(adjusters::round_to_clicks(question).clicks[0] == 12,
                "out of range either way: the better tilt");
}

TEST_CASE("turns read as a hand makes them") {
  CHECK(turn_text(16, 12, Side::back, Side::back) ==
        "1 turn and 4 clicks clockwise, seen from the back");
  CHECK(turn_text(-6, 12, Side::front, Side::front) == "½ turn anticlockwise, seen from the front");
  CHECK(turn_text(0, 12, Side::back, Side::back) == "leave it as it is");
  CHECK(turn_text(-15, 12, Side::back, Side::back) == "1¼ turns anticlockwise, seen from the back");
  CHECK(amount_text(12, 12) == "1 turn");
  CHECK(amount_text(33, 12) == "2¾ turns");
  CHECK(amount_text(25, 12) == "2 turns and 1 click");
  CHECK(amount_text(5, 12) == "5 clicks");
  CHECK(amount_text(1, 6) == "1 click");
  CHECK(amount_text(3, 6) == "½ turn");
  CHECK(amount_text(3, 12) == "¼ turn");
  CHECK(amount_text(3, 1) == "3 turns");
}

TEST_CASE("clockwise from the back is anticlockwise from the front") {
  CHECK(turn_text(5, 12, Side::back, Side::front) == "5 clicks anticlockwise, seen from the front");
  CHECK(turn_text(-5, 12, Side::front, Side::back) == "5 clicks clockwise, seen from the back");
}

// Source: ISO 261/262, coarse pitches of metric threads (M4 0.7, M5 0.8, M6 1.0, M8 1.25, M10 1.5)
// and fine M6x0.75, M8x1.0, in mm. Exact: one turn is one pitch.
TEST_CASE("a turn of a metric thread is its pitch") {
  for (const double pitch_mm : {0.7, 0.8, 1.0, 1.25, 1.5, 0.75}) {
    const dish::Adjuster adjuster{.pitch_m = pitch_mm / 1e3};
    CHECK(adjusters::turns_from_rise(adjuster, pitch_mm / 1e3) == doctest::Approx(1.0));
    CHECK(adjusters::turns_from_rise(adjuster, -0.25 * pitch_mm / 1e3) == doctest::Approx(-0.25));
  }
  // Quarter turn of M6: 0.25 mm (common practice, no source).
  const dish::Adjuster m6{.pitch_m = 0.001};
  CHECK(0.25 * adjusters::rise_per_turn_m(m6) == doctest::Approx(0.00025));
}

TEST_CASE("a move against the spring's loading ends with the backlash taken up") {
  const dish::Adjuster adjuster{.label = "1", .pitch_m = 0.001};
  dish::Spring spring;  // shorter as the screw pushes to the sun: loading is +
  adjusters::FinishQuestion question{
      .adjuster = &adjuster, .spring = &spring, .clicks = -7, .after_m = -0.0005};
  const auto finish = adjusters::finish_of(question);
  CHECK(finish.beyond_clicks == 6);
  CHECK(finish.text == "go ½ turn further, then ½ turn back, so that it ends against its spring");
  question.clicks = 7;
  CHECK(adjusters::finish_of(question).text.empty());
  question.clicks = 0;
  CHECK(adjusters::finish_of(question).text.empty());
  spring.pushes_to_sun = true;
  question.clicks = 7;
  CHECK(adjusters::finish_of(question).beyond_clicks == 6);
  question.spring = nullptr;
  CHECK_MESSAGE(adjusters::finish_of(question).text.empty(), "no spring, nothing to say");
}

TEST_CASE("the overshoot stays within what travel leaves") {
  const dish::Adjuster adjuster{.label = "1", .pitch_m = 0.001};
  const dish::Spring spring;
  adjusters::FinishQuestion question{
      .adjuster = &adjuster, .spring = &spring, .clicks = -7, .after_m = -0.0058};
  CHECK(adjusters::finish_of(question).beyond_clicks == 2);
  question.after_m = -0.006;
  CHECK(adjusters::finish_of(question).beyond_clicks == 0);
}

TEST_CASE("travel left is told each way, in the turns of that screw") {
  dish::Adjuster adjuster{.pitch_m = 0.0005, .travel_min_m = -0.003, .travel_max_m = 0.004};
  auto left = adjusters::travel_left(adjuster, nullptr, 0.001);
  CHECK(left.toward_sun_m == doctest::Approx(0.003));
  CHECK(left.toward_bracket_m == doctest::Approx(0.004));
  CHECK(left.clockwise_turns == doctest::Approx(6.0));
  CHECK(left.anticlockwise_turns == doctest::Approx(8.0));
  adjuster.hand = dish::Hand::left;
  left = adjusters::travel_left(adjuster, nullptr, 0.001);
  CHECK(left.clockwise_turns == doctest::Approx(8.0));
  left = adjusters::travel_left(adjuster, nullptr, 0.005);
  CHECK_MESSAGE(left.toward_sun_m < 0.0, "beyond its travel");
}
