// The third freedom: what each convention is best at, and the words when it cannot be had.
#include "align/piston.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "support/seeded.h"

namespace {

using align::Piston;
using align::PistonQuestion;

const adjusters::Interval k_wide{-1.0, 1.0};

PistonQuestion random_question(support::Seeded& random) {
  PistonQuestion question{.range = {k_wide, k_wide, k_wide}, .labels = {"1", "2", "3"}};
  for (std::size_t k = 0; k < 3; ++k) {
    question.rise_m[k] = random(-3e-3, 3e-3);
    question.lead_m[k] = random(5e-4, 2e-3);
    question.now_m[k] = random(-1e-3, 1e-3);
  }
  return question;
}

struct Cost {
  double total = 0.0, largest = 0.0, squares = 0.0, off_middle = 0.0;
};

Cost cost_at(const PistonQuestion& question, double c) {
  Cost cost;
  for (std::size_t k = 0; k < 3; ++k) {
    const double turns = std::abs(question.rise_m[k] + c) / question.lead_m[k];
    cost.total += turns;
    cost.largest = std::max(cost.largest, turns);
    cost.squares += turns * turns;
    const auto& range = question.range[k];
    cost.off_middle = std::max(cost.off_middle, std::abs(question.now_m[k] + question.rise_m[k] +
                                                         c - 0.5 * (range.least + range.most)));
  }
  return cost;
}

}  // namespace

TEST_CASE("no other height is better than the one each convention finds") {
  support::Seeded random(3);
  for (int trial = 0; trial < 100; ++trial) {
    PistonQuestion question = random_question(random);
    const auto found = [&](Piston piston) {
      question.piston = piston;
      return cost_at(question, align::choose_piston(question).wished_m);
    };
    const Cost total = found(Piston::fewest_turns);
    const Cost largest = found(Piston::least_largest_turn);
    const Cost squares = found(Piston::least_squares);
    const Cost middle = found(Piston::mid_range);
    for (double c = -5e-3; c <= 5e-3; c += 5e-5) {
      const Cost other = cost_at(question, c);
      CHECK(total.total <= other.total + 1e-12);
      CHECK(largest.largest <= other.largest + 1e-12);
      CHECK(squares.squares <= other.squares + 1e-12);
      CHECK(middle.off_middle <= other.off_middle + 1e-12);
    }
  }
}

TEST_CASE("fewest turns and a held screw leave that screw exactly alone") {
  support::Seeded random(4);
  for (int trial = 0; trial < 50; ++trial) {
    PistonQuestion question = random_question(random);
    const auto rises = [&] {
      const double c = align::choose_piston(question).chosen_m;
      return std::array<double, 3>{question.rise_m[0] + c, question.rise_m[1] + c,
                                   question.rise_m[2] + c};
    };
    question.piston = Piston::fewest_turns;
    const auto fewest = rises();
    CHECK(std::count(fewest.begin(), fewest.end(), 0.0) == 1);
    question.piston = Piston::hold_screw;
    question.held = static_cast<std::size_t>(trial % 3);
    CHECK(rises()[question.held] == 0.0);
    question.piston = Piston::tighten_only;
    question.loading = 1;
    for (const double rise : rises()) CHECK(rise >= 0.0);
    question.loading = -1;
    for (const double rise : rises()) CHECK(rise <= 0.0);
  }
}

TEST_CASE("what cannot be had is said, with the screw and the millimetres") {
  PistonQuestion question{
      .rise_m = {0.0019, -0.0007, -0.0015},
      .range = {adjusters::Interval{-0.003, 0.003}, {-0.003, 0.003}, {-0.003, 0.003}},
      .labels = {"A", "B", "C"},
      .piston = Piston::hold_screw,
      .held = 2};
  question.now_m = {0.0, 0.0, 0.0};
  auto choice = align::choose_piston(question);
  CHECK(choice.unmet ==
        "Screw C cannot be left as it is: screw A would go 0.40 mm past its range toward the sun.");
  question.piston = Piston::tighten_only;
  question.now_m = {0.0, 0.0, -0.0014};
  choice = align::choose_piston(question);
  CHECK(choice.unmet ==
        "The screws cannot all be only tightened: screw C would go 1.80 mm past its range toward "
        "the bracket.");
  question.range[0] = {-0.003, 0.0005};
  question.range[2] = {-0.0005, 0.003};
  choice = align::choose_piston(question);
  CHECK(choice.feasible.least > choice.feasible.most);
  CHECK(choice.chosen_m == doctest::Approx(0.5 * (choice.feasible.least + choice.feasible.most)));
  CHECK(choice.unmet ==
        "Screws C and A lack 3.80 mm of range between them for this tilt; both are taken half of "
        "it too far.");
  question.range[0] = {0.001, -0.006};
  question.range[1] = question.range[2] = k_wide;
  CHECK(align::choose_piston(question).unmet.find("Screw A has no range") == 0);
}
