// Observations and turns as a sitting logs them, and the way from a displaced dish back to an
// aligned one.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "session/figures.h"
#include "session/sitting.h"
#include "session/spots.h"
#include "session/told.h"
#include "tasks/align_task.h"

namespace {

using session::Session;
namespace act = session::act;

const dish::FacetId& facet_id(const Session& session, std::size_t facet) {
  return session.document.dish.facets[facet].id;
}

/// A different displacement for each screw of each facet, up to 0.3 mm.
session::Actions displace_all(const Session& session) {
  session::Actions actions;
  int turn = 1;
  for (const dish::Facet& facet : session.document.dish.facets) {
    std::array<double, 3> displacement_m{};
    for (double& d : displacement_m) {
      turn = turn * 37 % 101;
      d = (turn - 50) * 6e-6;
    }
    actions.emplace_back(act::Change{dish::edit::SetDisplacements{facet.id, displacement_m}});
  }
  return actions;
}

double greatest_tilt_rad(const Session& session) {
  double greatest = 0.0;
  for (const session::Stance& stance : *session.stances.value)
    greatest = std::max(greatest, stance.tilt_rad);
  return greatest;
}

}  // namespace

TEST_CASE("displace, see the spots, make the told turns: the tilt that is left is under a click") {
  Session session = sitting::at_nominal();
  session::apply(session, displace_all(session));
  const double tilt_before_rad = greatest_tilt_rad(session);
  REQUIRE(tilt_before_rad > 2e-3);
  session::apply(session, {act::SpotsFromLight{}});
  REQUIRE(session::is_fresh(session, session.plan));
  CHECK(session.plan.value->facets.size() == session.document.dish.facets.size());
  CHECK(session.plan.value->problems.empty());

  // The turns undo the tilt: what they leave of three displacements is one common height. The
  // quick light and the plan reckon a spot's middle by different quadratures, which agree to about
  // 1 um on a screw (today 1.2 um at most); a click is 83 um. Exact spots are tested below.
  for (const align::Correction& correction : session.plan.value->facets) {
    std::array<double, 3> left_m{};
    for (std::size_t k = 0; k < 3; ++k)
      left_m[k] = correction.screws[k].now_m + correction.screws[k].displacement_m;
    const auto [least, most] = std::minmax_element(left_m.begin(), left_m.end());
    CHECK(*most - *least < 5e-6);
  }

  CHECK(session::turns_are_open(session));
  session::apply(session, {act::TurnsDone{}});
  CHECK_FALSE(session::turns_are_open(session));
  CHECK_FALSE(session::shown_round(session)->turned.empty());
  // A facet is left with less tilt than one click of one of its screws makes.
  const Session click = [&] {
    Session one = sitting::at_nominal();
    session::apply(one, {act::Change{*session::turn_by_clicks(one, 0, 0, 1)}});
    return one;
  }();
  const double click_rad = (*click.stances.value)[0].tilt_rad;
  double worst_rad = 0.0;
  for (std::size_t i = 0; i < session.stances.value->size(); ++i) {
    const align::Correction* told = session::correction_of(session, facet_id(session, i));
    REQUIRE(told != nullptr);
    if (told->verdict == align::Verdict::turn)
      worst_rad = std::max(worst_rad, (*session.stances.value)[i].tilt_rad);
  }
  CHECK(worst_rad < click_rad);
  CHECK(worst_rad < 0.5 * tilt_before_rad);

  session::apply(session, {act::Undo{}});
  CHECK(session::turns_are_open(session));
  CHECK(std::abs(greatest_tilt_rad(session) - tilt_before_rad) < 1e-12);
}

TEST_CASE("from centre rays' spots the exact turns undo a displacement to a micrometre") {
  Session session = sitting::at_nominal();
  session::apply(session, displace_all(session));
  dish::Round round{.name = "Centre rays"};
  for (std::size_t i = 0; i < session.live.value->spots.size(); ++i) {
    REQUIRE(session.live.value->spots[i].chief_lands);
    round.spots.push_back(
        {.facet = facet_id(session, i), .seen_m = session.live.value->spots[i].chief_m});
  }
  align::PlanRequest request = session.plan_request;
  request.spot_is_centroid = false;
  session::apply(session, {act::Change{dish::edit::AddRound{round}}, act::SetPlanRequest{request}});
  REQUIRE(session::is_fresh(session, session.plan));
  REQUIRE(session.plan.value->facets.size() == round.spots.size());
  session::Actions undone;
  for (const align::Correction& correction : session.plan.value->facets) {
    const std::size_t facet = dish::find_facet(session.document.dish, correction.id);
    const auto& displaced_m = session.document.dish.facets[facet].displacement_m;
    std::array<double, 3> left_m{};
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(std::abs(correction.screws[k].now_m - displaced_m[k]) < 1e-6);
      left_m[k] = displaced_m[k] + correction.screws[k].displacement_m;
    }
    undone.push_back(act::Change{dish::edit::SetDisplacements{correction.id, left_m}});
  }
  // The screws need not end at equal displacements: a facet that stands further out must tilt a
  // little differently to reach its aim. So the light is asked, not the screws.
  session::apply(session, undone);
  for (std::size_t i = 0; i < session.live.value->spots.size(); ++i) {
    const base::Vec2 aim_m = session.document.dish.facets[i].aim_m;
    CHECK(glm::length(session.live.value->spots[i].chief_m - aim_m) < 1e-6);
  }
}

TEST_CASE("turns that were logged are not made a second time") {
  Session session = sitting::at_nominal();
  session::apply(session, displace_all(session));
  session::apply(session, {act::SpotsFromLight{}, act::TurnsDone{}});
  const std::string after = sitting::bytes_of(session);
  session::apply(session, {act::TurnsDone{}});
  CHECK((sitting::bytes_of(session) == after));
  CHECK(sitting::says(session, "No turns are waiting"));
}

TEST_CASE("without a round there are no turns to log") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::TurnsDone{}});
  CHECK(session.document.undo_steps.empty());
  CHECK(sitting::says(session, "No turns are waiting"));
}

TEST_CASE("spots of the model's light show the light of the same frame's edits") {
  Session session = sitting::at_nominal();
  const dish::FacetId facet = facet_id(session, 6);
  session::apply(session, {act::SpotsFromLight{}});
  const base::Vec2 before = *session::seen_spot(session, facet);
  session::apply(session, {sitting::displace(facet.text, 0, 4e-4), act::SpotsFromLight{}});
  CHECK(session.document.dish.rounds.size() == 2);
  CHECK(glm::length(*session::seen_spot(session, facet) - before) > 1e-3);
}

TEST_CASE("a spot typed into a dish without rounds brings its round, as one step") {
  Session session = sitting::at_nominal();
  const dish::Spot spot{.facet = facet_id(session, 2), .seen_m = {0.004, -0.003}};
  session::apply(session, {act::Change{dish::edit::SetSpot{0, spot}}});
  REQUIRE(session.document.dish.rounds.size() == 1);
  CHECK(session.document.dish.rounds[0].name == "Round 1");
  CHECK(*session::seen_spot(session, facet_id(session, 2)) == spot.seen_m);
  CHECK(session.document.undo_steps.size() == 1);
  session::apply(session, {act::Undo{}});
  CHECK(session.document.dish.rounds.empty());
}

TEST_CASE("a typed spot edits its round, and the corrections follow") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::SpotsFromLight{}});
  const dish::FacetId facet = facet_id(session, 2);
  const auto before = session::correction_of(session, facet)->tilt_error_rad;
  const dish::Spot spot{.facet = facet, .seen_m = {0.030, -0.020}};
  session::apply(session, {act::Change{dish::edit::SetSpot{0, spot}}});
  CHECK(session.document.dish.rounds.size() == 1);
  CHECK(session.document.dish.rounds[0].spots.size() == session.document.dish.facets.size());
  const align::Correction* after = session::correction_of(session, facet);
  REQUIRE(after != nullptr);
  CHECK(glm::length(after->tilt_error_rad - before) > 1e-3);
}

TEST_CASE("a typed spot of no facet is refused and brings no round") {
  Session session = sitting::at_nominal();
  const dish::Spot spot{.facet = dish::FacetId{"nobody"}, .seen_m = {0.0, 0.0}};
  session::apply(session, {act::Change{dish::edit::SetSpot{0, spot}}});
  CHECK(session.document.dish.rounds.empty());
  CHECK(sitting::says(session, "nobody"));
}

TEST_CASE("corrections are read from the round that is shown") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::SpotsFromLight{}});
  session::apply(session,
                 {sitting::displace(facet_id(session, 1).text, 0, 5e-4), act::SpotsFromLight{}});
  REQUIRE(session.round == 1);
  const double shown_rad = session.plan.value->rms_tilt_rad;
  session::apply(session, {act::SetRound{0}});
  CHECK(session.plan.value->rms_tilt_rad < shown_rad);
  session::apply(session, {act::SetRound{99}});
  CHECK(session.round == 0);
  session::apply(session, {act::SetRound{1}, act::Change{dish::edit::RemoveRound{1}}});
  CHECK(session.round == 0);
  CHECK(session::is_fresh(session, session.plan));
}

TEST_CASE("another convention is another plan for the same round") {
  Session session = sitting::at_nominal();
  session::apply(session, displace_all(session));
  session::apply(session, {act::SpotsFromLight{}});
  align::PlanRequest request = session.plan_request;
  request.clicks_per_turn = 6;
  session::apply(session, {act::SetPlanRequest{request}});
  REQUIRE(session::is_fresh(session, session.plan));
  CHECK(session.plan.value->facets.front().screws[0].clicks_per_turn == 6);
}

TEST_CASE("what a round's spots are starts as the headless program takes them") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::SpotsFromLight{}});
  const dish::Round& round = *session::shown_round(session);
  CHECK(session.plan_request.spot_is_centroid == tasks::is_centroid_by_default(round.source));
  dish::Round lamp = round;
  lamp.name = "Lamp";
  lamp.source = dish::LampSource{{0.0, 0.0, 30.0}};
  session::apply(session, {act::Change{dish::edit::AddRound{lamp}}});
  CHECK(session.plan_request.spot_is_centroid == tasks::is_centroid_by_default(lamp.source));
}

TEST_CASE("the table of turns that is saved is the headless program's") {
  Session session = sitting::at_nominal();
  session::apply(session, displace_all(session));
  session::apply(session, {act::SpotsFromLight{}, act::ExportTurns{}, act::ExportSpots{}});
  REQUIRE(session.outbox.saves.size() == 2);
  const auto reply = tasks::run(
      session.document.dish,
      tasks::AlignRequest{.round = *session::shown_round(session), .plan = session.plan_request});
  REQUIRE(reply.ok());
  CHECK(session.outbox.saves[0].bytes == tasks::csv_text(reply.value()));
  CHECK(session.outbox.saves[0].name == "tested-round-1-turns.csv");
  CHECK(session.outbox.saves[1].name == "tested-round-1-spots.csv");
  // Spots that were saved come back as the same round.
  const std::string table = session.outbox.saves[1].bytes;
  session::apply(session, {act::OpenBytes{"again.csv", table}});
  const auto& rounds = session.document.dish.rounds;
  REQUIRE(rounds.size() == 2);
  REQUIRE(rounds[1].spots.size() == rounds[0].spots.size());
  for (std::size_t i = 0; i < rounds[0].spots.size(); ++i)
    CHECK(rounds[1].spots[i].seen_m == rounds[0].spots[i].seen_m);
}
