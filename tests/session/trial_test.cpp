// The trial of two facets' screws in a sitting: step by step, indoors with a hidden fault, and the
// file put right.
#include "session/trial.h"

#include <doctest/doctest.h>

#include "session/figures.h"
#include "session/practice.h"
#include "session/sitting.h"

namespace {

using session::Session;
namespace act = session::act;

void type_spots(Session& session) {
  const auto trial = *session::shown_trial(session);
  for (const std::size_t facet : trial.facets) {
    const dish::FacetId id = session.document.dish.facets[facet].id;
    session::apply(
        session,
        {act::Change{dish::edit::SetSpot{session.round, {.facet = id, .seen_m = {0.001, 0.002}}}}});
  }
}

/// A practice with some hidden fault, as far as the trial's verdict.
Session tried_practice(std::uint64_t seed) {
  Session session = sitting::at_nominal();
  session::apply(session, {act::StartPractice{.seed = seed, .start_rad = 0.003, .faults = true},
                           act::BeginTrial{}});
  for (int turn = 0; turn < 3; ++turn) session::apply(session, {act::TrialTurned{}});
  return session;
}

}  // namespace

TEST_CASE("a trial is four rounds, and no step is taken before both spots are in") {
  Session session = sitting::at_nominal();
  CHECK_FALSE(session::shown_trial(session).has_value());
  session::apply(session, {act::BeginTrial{}});
  REQUIRE(session::shown_trial(session).has_value());
  CHECK_FALSE(session::can_turn_trial(session));
  session::apply(session, {act::TrialTurned{}});
  CHECK(session.document.dish.rounds.size() == 1);
  for (int look = 0; look < 4; ++look) {
    type_spots(session);
    CHECK(session::can_turn_trial(session) == (look < 3));
    if (look < 3) session::apply(session, {act::TrialTurned{}});
  }
  CHECK(session.document.dish.rounds.size() == 4);
  // Spots that never move: the file cannot be right, and that is said.
  REQUIRE(session.trial.value.has_value());
  CHECK_FALSE(session.trial.value->sentence.empty());
  // Half a turn is one undo step with the look it begins.
  session::apply(session, {act::Undo{}, act::Undo{}, act::Undo{}});
  CHECK(session.document.dish.rounds.size() == 3);
  // Rounds that follow are counted without the trial.
  session::apply(session, {act::BeginRound{}});
  CHECK(session.document.dish.rounds.back().name == "Round 1");
  CHECK_FALSE(session::shown_trial(session).has_value());
}

// Law: what the trial finds and puts right makes rounds converge on a dish with that very fault.
TEST_CASE("indoors, a hidden fault of the screws is found, put right, and rounds converge") {
  int found = 0;
  int faults = 0;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    CAPTURE(seed);
    Session session = tried_practice(seed);
    const std::string fault = session.practice.fault;
    REQUIRE(session.trial.value.has_value());
    const align::LabelVerdict labels = session.trial.value->labels;
    if (fault.empty()) {
      CHECK_FALSE(labels.act);
    } else {
      ++faults;
      if (!labels.act) continue;
      ++found;
      session::apply(session,
                     {act::CorrectMount{labels.mount, labels.hypotheses[labels.best].wiring}});
      CHECK_FALSE(session.trial.value->labels.act);
    }
    for (int round = 0; round < 2; ++round) {
      session::apply(session, {act::PracticeLook{}, act::TurnsDone{}});
    }
    session::apply(session, {act::PracticeTell{}});
    REQUIRE(session.practice.told_rms_rad);
    CHECK(*session.practice.told_rms_rad < 1.8e-3);
  }
  CHECK(faults >= 4);
  CHECK(found >= faults - 1);
}

TEST_CASE("a dish without screws has none to try, and that is said") {
  dish::Dish dish = sitting::at_nominal().document.dish;
  for (dish::Facet& facet : dish.facets) facet.mount = {};
  Session session = sitting::on(dish);
  session::apply(session, {act::BeginTrial{}});
  CHECK(sitting::says(session, "no screws to try"));
  CHECK(session.document.dish.rounds.empty());
}
