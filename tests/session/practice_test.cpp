// Simulated practice: the same number hides the same errors, rounds bring them down, and nothing of
// it is seen but the spots.
#include "session/practice.h"

#include <doctest/doctest.h>

#include "session/figures.h"
#include "session/sitting.h"

namespace {

using session::Session;
namespace act = session::act;

}  // namespace

TEST_CASE("three rounds of practice bring the hidden tilts near what eyes and hands leave") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::StartPractice{.seed = 3, .start_rad = 0.005}});
  REQUIRE(session::practises(session));
  CHECK(session.practice.start_rms_rad > 0.004);
  for (int round = 0; round < 3; ++round) {
    session::apply(session, {act::PracticeLook{}});
    session::apply(session, {act::TurnsDone{}});
  }
  session::apply(session, {act::PracticeTell{}});
  REQUIRE(session.practice.told_rms_rad);
  // Spots read to 2 mm and turns to a twelfth end near 1 mrad (design figure 0.95).
  CHECK(*session.practice.told_rms_rad < 1.4e-3);
  CHECK(session.document.dish.rounds.size() == 3);
}

TEST_CASE("the same practice is the same again") {
  const auto play = [] {
    Session session = sitting::at_nominal();
    session::apply(session, {act::StartPractice{.seed = 8}, act::PracticeLook{}, act::TurnsDone{},
                             act::PracticeLook{}});
    return sitting::bytes_of(session);
  };
  CHECK(play() == play());
}

TEST_CASE("on site, one facet's turns move the hidden dish by that facet alone") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::StartPractice{.seed = 5}, act::PracticeLook{}, act::WorkOnSite{}});
  REQUIRE(session.on_site.shown);
  const auto before = session.practice.hidden.displacement_m;
  const dish::FacetId hand = session.on_site.order[session.on_site.place];
  session::apply(session, {act::MarkWork{act::MarkWork::done}});
  const auto& after = session.practice.hidden.displacement_m;
  for (std::size_t k = 0; k < before.size(); ++k) {
    CHECK((before[k] == after[k]) == (session.document.dish.facets[k].id != hand));
  }
}

TEST_CASE("a practice ends when its dish is gone") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::StartPractice{}, act::OpenDemo{"Kiln Yard"}});
  CHECK_FALSE(session::practises(session));
  session::apply(session, {act::PracticeLook{}});
  CHECK_FALSE(session.practice.on);
  CHECK(sitting::says(session, "The practice is over"));
}
