// Mistakes of labels by Monte Carlo through the exact forward model.
#include "align/labels.h"

#include <doctest/doctest.h>

#include <cmath>

#include "align/plan.h"
#include "align/solve.h"
#include "base/units.h"
#include "support/figures.h"
#include "support/says.h"
#include "turning.h"

namespace {

using align::Turns;
using align_test::Errors;
using align_test::Field;

/// Exact turns for what the last round saw, without the stop rule.
Turns wanted_turns(const dish::Dish& dish, std::size_t facet, const base::Vec2& seen_m,
                   align::Piston piston = align::Piston::fewest_turns) {
  const auto setup = align::set_up(dish, dish.facets[facet]).value();
  const align::Evidence evidence =
      align::evidence_of(setup, align::sighting_of(dish, {}), align::SeenSpot{seen_m}, 0.002);
  const auto planes = align::solve_planes(setup, evidence, {}, {.piston = piston});
  Turns turns{};
  if (!planes) return turns;
  for (std::size_t k = 0; k < 3; ++k) {
    turns[k] = std::round(12.0 * planes.value().rise_m[k] / setup.rise_per_turn_m[k]) / 12.0;
  }
  return turns;
}

std::vector<std::size_t> first(std::size_t count) {
  std::vector<std::size_t> facets;
  for (std::size_t i = 0; i < count; ++i) facets.push_back(i);
  return facets;
}

void correct_all(Field& field, const std::vector<std::size_t>& facets,
                 align::Piston piston = align::Piston::fewest_turns) {
  const auto spots = field.file.rounds.back().spots;
  for (std::size_t i = 0; i < facets.size(); ++i) {
    field.turn(facets[i], wanted_turns(field.file, facets[i], spots[i].seen_m, piston));
  }
}

/// A dish of a few facets, so that trials are quick.
dish::Dish small_dish(std::size_t count) {
  dish::Dish dish = support::reference_dish();
  // Spread over the rings.
  std::vector<dish::Facet> facets;
  for (std::size_t i = 0; i < count; ++i) facets.push_back(dish.facets[(i * 36) / count]);
  dish.facets = facets;
  return dish;
}

std::vector<align::FacetHistory> histories_of(const Field& field) {
  return align::histories_of(field.file, {.rounds = field.file.rounds.size(),
                                          .sighting = align::sighting_of(field.file, {})});
}

Errors start(double tilt_sigma_rad) {
  return tilt_sigma_rad > 0.0 ? Errors{.tilt_sigma_rad = tilt_sigma_rad}
                              : Errors{.uniform_5_20 = true};
}

std::vector<align::Wiring> mistakes() {
  return {
      {.moves = {1, 0, 2}}, {.moves = {1, 2, 0}}, {.sense = {-1, -1, -1}}, {.sense = {-1, 1, 1}}};
}

/// Share of trials in which one facet's moves of one round reject the file.
double rejected(const align::Wiring& wiring, double tilt_sigma_rad, int trials, unsigned seed) {
  int count = 0;
  const dish::Dish dish = small_dish(1);
  for (int trial = 0; trial < trials; ++trial) {
    Field field(dish, start(tilt_sigma_rad), seed + static_cast<unsigned>(trial));
    field.wiring[0] = wiring;
    field.look();
    correct_all(field, {0});
    field.look();
    count += align::judge_facet(field.file, histories_of(field)[0], {}).warn ? 1 : 0;
  }
  return static_cast<double>(count) / trials;
}

/// How often the pooled verdict is asked for.
struct Pool {
  std::size_t facets = 4;
  int trials = 40;
  unsigned seed = 5000;
  int rounds = 1;
  align::Piston piston = align::Piston::fewest_turns;
  bool only_fifteen = true;  ///< not against turned drawings and other threads
};

/// Share of trials in which the pooled verdict names the mistake.
double named(const align::Wiring& wiring, double tilt_sigma_rad, const Pool& pool) {
  int count = 0;
  const dish::Dish dish = small_dish(pool.facets);
  for (int trial = 0; trial < pool.trials; ++trial) {
    Field field(dish, start(tilt_sigma_rad), pool.seed + static_cast<unsigned>(trial));
    for (auto& own : field.wiring) own = wiring;
    field.look();
    for (int round = 0; round < pool.rounds; ++round) {
      correct_all(field, first(pool.facets), pool.piston);
      field.look();
    }
    const auto verdict = align::judge_fleet(field.file, histories_of(field), dish.mounts[0],
                                            align::sighting_of(dish, {}), {});
    std::size_t chosen = 0;
    for (std::size_t h = 0; h < verdict.share.size(); ++h) {
      const auto& other = verdict.hypotheses[h].wiring;
      const bool of_fifteen =
          other.frame_turn_rad == 0.0 && !other.frame_mirrored && other.lead_factor == 1.0;
      if (of_fifteen && verdict.share[h] > verdict.share[chosen]) chosen = h;
    }
    const auto& best = verdict.hypotheses[pool.only_fifteen ? chosen : verdict.best].wiring;
    count += best.moves == wiring.moves && best.sense == wiring.sense &&
                     best.frame_turn_rad == 0.0 && best.lead_factor == 1.0
                 ? 1
                 : 0;
  }
  return static_cast<double>(count) / pool.trials;
}

}  // namespace

// Source: the alignment page's Monte Carlo (2 mm, 1/12 turn, 3 % gain, one round, one facet,
// prior 0.9): share of "nominal rejected" 0.2 to 0.65 from 2 mrad per axis, 0.4 to 0.9 from 5 mrad,
// 0.6 to 1.0 from 5 to 20 mrad; false alarms 0.00. Tolerance: two sigma of 60 binomial trials,
// 0.13.
TEST_CASE("one facet's round rejects wrong labels as often as simulated, and right ones never") {
  struct Row {
    double tilt_rad;
    double least;
    double most;
  };
  for (const Row& row : {Row{0.002, 0.2, 0.65}, Row{0.005, 0.4, 0.9}, Row{0.0, 0.6, 1.0}}) {
    double low = 1.0;
    double high = 0.0;
    for (const align::Wiring& wiring : mistakes()) {
      const double share = rejected(wiring, row.tilt_rad, 60, 1000);
      low = std::min(low, share);
      high = std::max(high, share);
    }
    CAPTURE(row.tilt_rad);
    CHECK(low > row.least - 0.13);
    CHECK(low < row.most);
    CHECK(high < row.most + 0.13);
    CHECK(high > row.least);
    CHECK(rejected({}, row.tilt_rad, 150, 3000) == 0.0);
    support::record_figure("align/labels_rejected_low_" + std::to_string(row.tilt_rad), low);
    support::record_figure("align/labels_rejected_high_" + std::to_string(row.tilt_rad), high);
  }
}

// Source: the same page: pooled over 4 facets the right one of fifteen in 94 to 100 % at 2 mrad,
// 100 % at 5 mrad; 8 facets 100 %. The page does not say over how many rounds, nor how the turns
// were chosen. Derived by a linear simulation apart from this code (4 facets, 2 mrad, the exact
// likelihood of fifteen, 400 trials: error 0.025): after one round 0.91, 0.96, 0.95 for two screws
// interchanged, numbers on by one and all opposite, but no more than 0.63 for one screw opposite
// (0.62 with the centre kept); after two rounds with the centre kept 1.00, 1.00, 0.99 and 0.92, and
// 1.00 at 5 mrad, which is the page's range. So two such rounds are held to the page, one round to
// the derivation. Tolerance: two sigma of 40 trials with the reference's own: of 0.94 0.09, of 0.63
// 0.16. Against all hypotheses, turned drawings and other threads among them, shares are recorded.
TEST_CASE("pooled over a few facets the mistake is named") {
  const auto all = mistakes();
  const double derived[] = {0.91, 0.96, 0.95, 0.63};
  for (std::size_t i = 0; i < all.size(); ++i) {
    CAPTURE(i);
    const bool alone = i == 3;
    const double once = named(all[i], 0.002, {});
    CHECK(std::abs(once - derived[i]) < (alone ? 0.16 : 0.10));
    const double twice = named(all[i], 0.002, {.rounds = 2, .piston = align::Piston::keep_height});
    CHECK(twice >= 0.94 - 0.09);
    CHECK(named(all[i], 0.005,
                {.trials = 20, .seed = 6000, .rounds = 2, .piston = align::Piston::keep_height}) ==
          1.0);
    CHECK(named(all[i], 0.005, {.facets = 8, .trials = 20, .seed = 7000, .only_fifteen = false}) ==
          1.0);
    support::record_figure("align/labels_named_of_15_" + std::to_string(i), once);
    support::record_figure("align/labels_named_twice_" + std::to_string(i), twice);
    support::record_figure("align/labels_named_of_all_" + std::to_string(i),
                           named(all[i], 0.002, {.only_fifteen = false}));
  }
  CHECK(named({}, 0.002, {.seed = 8000, .only_fifteen = false}) == 1.0);
  CHECK(named({}, 0.005, {.seed = 9000, .only_fifteen = false}) == 1.0);
}

// Source: the same page: a swapped pair is found exactly in 52 % (2 mrad), 88 % (5), 95 % (5 to 20)
// of 36 facets; innocent facets accused in 0 to 2 %; no false alarm without a swap. Tolerance: two
// sigma of 40, 40 and 20 trials: 0.16, 0.12 (with the page's own error), 0.10. Derived by a linear
// simulation apart from this code, one round of least turns, 120 trials: 0.48, 0.90, 0.93; two
// rounds would give 0.87, 0.98, 0.99, so the page means one.
TEST_CASE("two facets that were taken for each other are found") {
  struct Row {
    double tilt_rad;
    double share;
    double tolerance;
    int trials;
  };
  for (const Row& row :
       {Row{0.002, 0.52, 0.16, 40}, Row{0.005, 0.88, 0.12, 40}, Row{0.0, 0.95, 0.10, 20}}) {
    int exact = 0;
    int accused = 0;
    int alarms = 0;
    for (int trial = 0; trial < row.trials; ++trial) {
      for (const bool swapped : {true, false}) {
        Field field(support::reference_dish(), start(row.tilt_rad),
                    static_cast<unsigned>(11000 + trial));
        const std::size_t a = static_cast<std::size_t>(trial * 7) % 36;
        const std::size_t b = (a + 11) % 36;
        if (swapped) std::swap(field.turns_of[a], field.turns_of[b]);
        field.look();
        correct_all(field, first(36));
        field.look();
        const auto swaps = align::find_swaps(field.file, histories_of(field), {});
        if (!swapped) {
          alarms += swaps.empty() ? 0 : 1;
          continue;
        }
        bool innocent = false;
        for (const auto& swap : swaps) innocent = innocent || (swap.facet != a && swap.facet != b);
        accused += innocent ? 1 : 0;
        exact += swaps.size() == 2 && !innocent ? 1 : 0;
      }
    }
    const double share = static_cast<double>(exact) / row.trials;
    CAPTURE(row.tilt_rad);
    CHECK(std::abs(share - row.share) < row.tolerance);
    CHECK(accused <= 2);
    CHECK(alarms == 0);
    support::record_figure("align/swaps_found_" + std::to_string(row.tilt_rad), share);
  }
}

TEST_CASE("a mistake of the whole dish is told in words, with odds and what to do") {
  Field field(small_dish(8), {.tilt_sigma_rad = 0.006}, 31);
  for (auto& wiring : field.wiring) wiring.moves = {2, 1, 0};
  field.look();
  correct_all(field, first(8));
  field.look();
  const auto verdict = align::judge_fleet(field.file, histories_of(field), field.file.mounts[0],
                                          align::sighting_of(field.file, {}), {});
  CAPTURE(verdict.sentence);
  CHECK(verdict.act);
  CHECK(support::says(verdict.sentence,
                      "All facets on mount plate: screws 1 and 3 are interchanged"));
  CHECK(support::says(verdict.sentence, " to 1. Number the screws again"));
  double sum = 0.0;
  for (const double share : verdict.share) sum += share;
  CHECK(sum == doctest::Approx(1.0).epsilon(1e-12));
}

TEST_CASE("a wrong thread is named by the standard's pitch") {
  Field field(small_dish(12), {.gain_sigma = 0.01, .tilt_sigma_rad = 0.01}, 32);
  for (auto& wiring : field.wiring) wiring.lead_factor = 0.7;
  field.look();
  correct_all(field, first(12));
  field.look();
  const auto verdict = align::judge_fleet(field.file, histories_of(field), field.file.mounts[0],
                                          align::sighting_of(field.file, {}), {});
  CAPTURE(verdict.sentence);
  CHECK(verdict.hypotheses[verdict.best].wiring.lead_factor == doctest::Approx(0.7));
  CHECK(support::says(verdict.sentence, "lead is 0.7 mm (as M4), not 1 mm"));
}

TEST_CASE("screws turned under the drawing are named by their angle") {
  Field field(small_dish(8), {.tilt_sigma_rad = 0.008}, 33);
  // The screws of every facet really stand 90 degrees on: their corners move accordingly.
  field.look();
  dish::Dish real = field.file;
  for (auto& screw : real.mounts[0].adjusters) {
    const double x = screw.x_m;
    screw.x_m = -screw.y_m;
    screw.y_m = x;
  }
  Field truth(real, {.tilt_sigma_rad = 0.0}, 34);
  const auto spots = field.file.rounds[0].spots;
  dish::Round next{.name = "Round 2"};
  for (std::size_t i = 0; i < 8; ++i) {
    const Turns turns = wanted_turns(field.file, i, spots[i].seen_m);
    field.turn(i, turns);
    const auto nominal = align::set_up(real, real.facets[i]).value();
    const auto f = align::response_of(nominal, align::sighting_of(real, {}), {}).value();
    next.spots.push_back(
        {.facet = real.facets[i].id, .seen_m = spots[i].seen_m + align::shift_of_turns(f, turns)});
  }
  field.file.rounds.push_back(next);
  const auto verdict = align::judge_fleet(field.file, histories_of(field), field.file.mounts[0],
                                          align::sighting_of(field.file, {}), {});
  CAPTURE(verdict.sentence);
  CHECK(support::says(verdict.sentence, "turned by 90 degrees anticlockwise"));
}
