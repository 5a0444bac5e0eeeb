// Spots spread on purpose: turns told before anything is seen, spots named by their places, and one
// round of turns that brings them together.
#include "session/spread.h"

#include <doctest/doctest.h>

#include "align/observe.h"
#include "naming/identify.h"
#include "session/figures.h"
#include "session/on_site.h"
#include "session/sitting.h"
#include "session/told.h"

namespace {

using session::Session;
namespace act = session::act;

double tilt_rms(const Session& session) {
  double square = 0.0;
  for (const session::Stance& stance : *session.stances.value) {
    square += stance.tilt_rad * stance.tilt_rad;
  }
  return std::sqrt(square / static_cast<double>(session.stances.value->size()));
}

}  // namespace

TEST_CASE("turns are told before anything is seen, and are worked off like any others") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::SpreadSpots{}});
  REQUIRE(session.document.dish.rounds.size() == 1);
  CHECK(session::is_prescribed(*session::shown_round(session)));
  CHECK(session::turns_are_open(session));
  const std::size_t facets = session::open_turns(session).size();
  CHECK(facets >= session.document.dish.facets.size() - 1);  // one may sit on the axis
  CHECK_FALSE(session::can_spread(session));
  session::apply(session, {act::WorkOnSite{true}});
  REQUIRE(session.on_site.shown);
  CHECK(session.on_site.order.size() == facets);
  const dish::FacetId first = *session::facet_in_hand(session);
  const auto told = session::told_screws(session, first);
  REQUIRE(told.has_value());
  session::apply(session, {act::MarkWork{act::MarkWork::done}});
  CHECK(session::work_on(session, first) == session::FacetWork::done);
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK((*session::told_screws(session, first))[k].clicks == (*told)[k].clicks);
  }
  session::apply(session, {act::TurnsDone{}});
  CHECK_FALSE(session::turns_are_open(session));
  const dish::Round& round = *session::shown_round(session);
  CHECK(round.told.size() == round.turned.size());
  CHECK(tilt_rms(session) > 0.01);
}

// Law: a dish whose screws do as told is at nominal again after the array and one round, but for
// whole clicks.
TEST_CASE("the spots lie as the facets do, are named from that, and one round gathers them") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::SpreadSpots{}, act::TurnsDone{}});
  const dish::Dish& dish = session.document.dish;
  const auto priors = naming::priors_of(dish, 0.003);
  const auto target = naming::target_of(dish, align::sighting_of(dish, {}), priors);
  REQUIRE(target.ok());
  // Where the file expects them is where the model's light shows them.
  dish::Round seen{.name = "At the focus"};
  for (const naming::Cell& cell : target.value().cells) {
    const optics::FacetSpot& light = session.live.value->spots[cell.facet];
    REQUIRE(light.chief_lands);
    CHECK(glm::distance(light.chief_m, cell.mark_m) < 1e-9);
    seen.spots.push_back({dish.facets[cell.facet].id, light.chief_m});
  }
  session::apply(session, {act::Change{dish::edit::AddRound{seen}}});
  align::PlanRequest request = session.plan_request;
  request.spot_is_centroid = false;
  session::apply(session, {act::SetPlanRequest{request}});
  session::apply(session, {act::TurnsDone{}});
  // Half a click of each of three screws: 0.35 mrad.
  CHECK(tilt_rms(session) < 0.4e-3);
}

TEST_CASE("screws too short for any useful spread say so and change nothing") {
  dish::Dish dish = sitting::at_nominal().document.dish;
  for (dish::Mount& mount : dish.mounts) {
    for (dish::Adjuster& screw : mount.adjusters) {
      screw.travel_min_m = -0.0005;
      screw.travel_max_m = 0.0005;
    }
  }
  Session session = sitting::on(dish);
  session::apply(session, {act::SpreadSpots{}});
  CHECK(sitting::says(session, "a board inside the focus instead"));
  CHECK(session.document.dish.rounds.empty());
}
