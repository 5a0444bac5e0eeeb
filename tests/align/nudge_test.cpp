// The trial of two facets' screws: what it settles, how it stands in the log, and the file put
// right by what it found.
#include "align/nudge.h"

#include <doctest/doctest.h>

#include "align/observe.h"
#include "align/rewire.h"
#include "support/reference_dish.h"
#include "support/says.h"
#include "turning.h"

namespace {

using align::Turns;
using align_test::Field;

dish::Dish with(dish::Dish dish, const base::Result<std::vector<dish::Edit>>& edits) {
  REQUIRE(edits.ok());
  for (const dish::Edit& edit : edits.value()) dish = dish::apply(dish, edit).value();
  return dish;
}

/// The whole trial as a person makes it on a dish that is wired like this.
Field tried(const align::Wiring& wiring, unsigned seed, const dish::Dish& file) {
  Field field(file, {}, seed);
  for (align::Wiring& wired : field.wiring) wired = wiring;
  field.file.rounds.push_back({.name = align::nudge_round_name(0)});
  for (std::size_t look = 0; look < align::k_nudge_looks; ++look) {
    auto nudge = align::nudge_in_log(field.file);
    REQUIRE(nudge.has_value());
    REQUIRE(nudge->looks == look + 1);
    CHECK_FALSE(nudge->is_seen);
    const dish::Round open = field.file.rounds.back();
    field.file.rounds.pop_back();
    field.look(nudge->facets);
    field.file.rounds.back().name = open.name;
    nudge = align::nudge_in_log(field.file);
    REQUIRE(nudge->is_seen);
    if (align::is_over(*nudge)) break;
    // The field turns for itself; the log is what the program makes of it.
    for (const std::size_t facet : nudge->facets) {
      Turns turns{};
      turns[look] = align::k_nudge_turns;
      field.turn(facet, turns);
    }
    field.file.rounds.back().told.clear();
    field.file.rounds.back().turned.clear();
    field.file = with(field.file, align::next_nudge(field.file, *nudge));
  }
  return field;
}

align::NudgeVerdict verdict_of(const Field& field) {
  return align::read_nudge(field.file, *align::nudge_in_log(field.file)).value();
}

}  // namespace

// Source: derived: at 2.8 mm of difference noise, predictions 15 mm apart (Mahalanobis 5.5) give
// odds of 400 in 95 % of cases; half a turn of a reference screw moves the spot by about 17 mm,
// known to about 4 mm per column and turn (8 mm per whole turn).
TEST_CASE("the nudge settles hand, numbers, thread and side") {
  const dish::Dish dish = support::reference_dish();
  const auto facets = align::nudge_facets(dish);
  REQUIRE(facets.size() == 2);
  CHECK(glm::distance(dish.facets[facets[0]].centre_m, dish.facets[facets[1]].centre_m) > 0.8);
  int settled = 0;
  for (unsigned seed = 0; seed < 20; ++seed) {
    const auto right = verdict_of(tried({}, 40 + seed, dish));
    settled += support::says(right.sentence, "as the file says") ? 1 : 0;
    CHECK(glm::length(right.readings[0].nominal[0]) == doctest::Approx(0.0335).epsilon(0.06));
    CHECK(right.readings[0].sigma_m == doctest::Approx(0.00566).epsilon(0.01));
  }
  CHECK(settled >= 19);
  CHECK(support::says(verdict_of(tried({.sense = {-1, -1, -1}}, 61, dish)).sentence,
                      "all screws turn the opposite"));
  CHECK(support::says(verdict_of(tried({.moves = {0, 2, 1}}, 62, dish)).sentence,
                      "screws 2 and 3 are interchanged"));
  CHECK(support::says(verdict_of(tried({.sense = {1, 1, -1}}, 63, dish)).sentence,
                      "screw 3 turns the opposite way"));
}

TEST_CASE("the trial's steps are told one by one, and its place is read from the log") {
  dish::Dish dish = support::reference_dish();
  CHECK_FALSE(align::nudge_in_log(dish).has_value());
  dish.rounds.push_back({.name = align::nudge_round_name(0)});
  auto nudge = *align::nudge_in_log(dish);
  CHECK(support::says(align::nudge_step(dish, nudge), "Uncover "));
  CHECK_FALSE(align::next_nudge(dish, nudge).ok());
  for (const std::size_t facet : nudge.facets) {
    dish.rounds.back().spots.push_back({.facet = dish.facets[facet].id, .seen_m = {0.0, 0.0}});
  }
  nudge = *align::nudge_in_log(dish);
  CHECK(support::says(align::nudge_step(dish, nudge), "half a turn clockwise, seen from the back"));
  dish = with(dish, align::next_nudge(dish, nudge));
  CHECK(dish.rounds.size() == 2);
  CHECK(dish.rounds[0].turned.size() == 2);
  CHECK(dish.rounds[0].turned == dish.rounds[0].told);
  // Half a turn of a right-handed M6 pushed from behind: half a millimetre toward the sun.
  CHECK(dish.facets[nudge.facets[0]].displacement_m[0] == doctest::Approx(0.0005));
  CHECK(align::nudge_in_log(dish)->looks == 2);
  CHECK_FALSE(align::read_nudge(dish, *align::nudge_in_log(dish)).ok());
}

// Law: a file that is put right describes the dish as it is wired, so a second trial finds nothing.
TEST_CASE("a file put right by the trial's finding is found right by the next trial") {
  const dish::Dish dish = support::reference_dish();
  unsigned seed = 70;
  for (const align::Wiring& wiring :
       {align::Wiring{.sense = {-1, -1, -1}}, align::Wiring{.moves = {1, 0, 2}},
        align::Wiring{.moves = {0, 2, 1}, .sense = {-1, -1, -1}},
        align::Wiring{.sense = {1, -1, 1}}}) {
    const Field field = tried(wiring, ++seed, dish);
    const auto verdict = verdict_of(field);
    CAPTURE(verdict.sentence);
    REQUIRE(verdict.labels.act);
    const align::Wiring& found = verdict.labels.hypotheses[verdict.labels.best].wiring;
    const dish::Dish right =
        with(field.file, align::rewire(field.file, verdict.labels.mount, found));
    const auto again = align::read_nudge(right, *align::nudge_in_log(right)).value();
    CAPTURE(again.sentence);
    CHECK(support::says(again.sentence, "as the file says"));
    for (const double gain : again.readings[0].gain)
      CHECK(gain == doctest::Approx(1.0).epsilon(0.5));
  }
}

// Law: taking a rewiring back by its inverse leaves the file's screws as they were.
TEST_CASE("interchanging twice changes nothing, and planes stay what they were") {
  dish::Dish dish = support::reference_dish();
  dish.facets[4].displacement_m = {1e-4, -2e-4, 3e-4};
  const align::Wiring swap{.moves = {2, 1, 0}};
  dish::Dish changed = dish;
  for (int times = 0; times < 2; ++times) {
    changed = with(changed, align::rewire(changed, dish.mounts[0].name, swap));
    // Nothing was turned: the plane is the same, told by other labels.
    CHECK(changed.facets[4].displacement_m[0] ==
          doctest::Approx(times == 0 ? 3e-4 : 1e-4).epsilon(1e-9));
  }
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(changed.mounts[0].adjusters[k].label == dish.mounts[0].adjusters[k].label);
    CHECK(changed.mounts[0].adjusters[k].x_m == dish.mounts[0].adjusters[k].x_m);
  }
  CHECK_FALSE(align::rewire(dish, {"no such"}, swap).ok());
}
