// Facet by facet at the dish: an order, marks, what the log then holds, slips put right.
#include "session/on_site.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "adjusters/screws.h"
#include "session/figures.h"
#include "session/sitting.h"
#include "session/told.h"

namespace {

using session::FacetWork;
using session::Session;
namespace act = session::act;

/// Three facets of a good dish off by so much that each is told to turn.
Session with_work() {
  Session session = sitting::at_nominal();
  for (const std::size_t facet : {2UL, 9UL, 20UL}) {
    session::apply(session, {sitting::displace(sitting::id_of(session, facet), 1, 6e-4)});
  }
  session::apply(session, {act::SpotsFromLight{}});
  // The model's screws are at nominal again: only the spots tell what is wrong.
  session::apply(session, {act::Change{dish::edit::ResetDisplacements{}}, act::WorkOnSite{true}});
  return session;
}

double displacement_m(const Session& session, const dish::FacetId& facet, std::size_t screw) {
  const dish::Dish& dish = session.document.dish;
  return dish.facets[dish::find_facet(dish, facet)].displacement_m[screw];
}

}  // namespace

TEST_CASE("on site every facet that is told to turn comes once") {
  Session session = with_work();
  REQUIRE(session.on_site.shown);
  CHECK(session.on_site.order.size() == 3);
  for (const std::size_t facet : {2UL, 9UL, 20UL}) {
    const auto& order = session.on_site.order;
    CHECK(std::count(order.begin(), order.end(), dish::FacetId{sitting::id_of(session, facet)}) ==
          1);
  }
  CHECK(session.selection.selected == session::facet_in_hand(session));
  session::apply(session, {act::WorkStep{-1}});
  CHECK(session.on_site.place == 2);
  session::apply(session, {act::WorkStep{1}, act::WorkStep{1}});
  CHECK(session.on_site.place == 1);
}

TEST_CASE("done logs the facet's turns as told and takes the next open one") {
  Session session = with_work();
  const dish::FacetId first = *session::facet_in_hand(session);
  const auto told = session::told_screws(session, first);
  REQUIRE(told);
  session::apply(session, {act::MarkWork{act::MarkWork::done}});
  CHECK(session::work_on(session, first) == FacetWork::done);
  CHECK(session::facet_in_hand(session) != first);
  CHECK(session::count_work(session).done == 1);
  const dish::Round& round = *session::shown_round(session);
  CHECK(round.told == round.turned);
  for (const dish::Turned& turned : round.turned) CHECK(turned.facet == first);
  // What was told stays as it was once it is done.
  const auto after = session::told_screws(session, first);
  REQUIRE(after);
  for (std::size_t k = 0; k < 3; ++k) CHECK((*after)[k].clicks == (*told)[k].clicks);
  // The rest can still be logged in one go.
  CHECK(session::turns_are_open(session));
  session::apply(session, {act::TurnsDone{}});
  CHECK(session::count_work(session).done == 3);
  CHECK(!session::turns_are_open(session));
}

TEST_CASE("skipped and doubted facets stay, and are passed over") {
  Session session = with_work();
  const dish::FacetId first = *session::facet_in_hand(session);
  session::apply(session, {act::MarkWork{act::MarkWork::skip}});
  const dish::FacetId second = *session::facet_in_hand(session);
  session::apply(session, {act::MarkWork{act::MarkWork::again}});
  CHECK(session::work_on(session, first) == FacetWork::skipped);
  CHECK(session::work_on(session, second) == FacetWork::again);
  session::apply(session, {act::MarkWork{act::MarkWork::done}});
  CHECK(session::count_work(session).done == 1);
  // Coming back, an open facet is taken first; there is none, so the present one stays in hand.
  session::apply(session, {act::WorkOnSite{false}, act::WorkOnSite{true}});
  CHECK(session.on_site.order.size() == 3);
  CHECK(session::work_on(session, first) == FacetWork::skipped);
}

TEST_CASE("a page that is opened again goes on with the work where it was left") {
  Session session = with_work();
  const dish::FacetId first = *session::facet_in_hand(session);
  session::apply(session, {act::MarkWork{act::MarkWork::skip}});
  const dish::FacetId second = *session::facet_in_hand(session);
  session::apply(session, {act::MarkWork{act::MarkWork::again}});
  const auto kept = session::from_storage(session::to_storage(session));
  REQUIRE(kept.ok());
  const Session& after = kept.value();
  CHECK(after.on_site.shown);
  CHECK(after.on_site.order == session.on_site.order);
  CHECK(session::facet_in_hand(after) == session::facet_in_hand(session));
  CHECK(session::work_on(after, first) == FacetWork::skipped);
  CHECK(session::work_on(after, second) == FacetWork::again);
}

TEST_CASE("a slip is put right with one tap, in the log and at the screws") {
  Session session = with_work();
  const dish::FacetId facet = *session::facet_in_hand(session);
  session::apply(session, {act::MarkWork{act::MarkWork::done}});
  const auto before = session::turned_at(session, facet);
  REQUIRE(!before.empty());
  const auto slips = session::slips_of(session, facet);
  REQUIRE(!slips.empty());
  CHECK(slips.front().words.find("the wrong way") != std::string::npos);
  const dish::Mount mount = session.document.dish.mounts.front();
  const std::size_t screw = static_cast<std::size_t>(
      std::find_if(mount.adjusters.begin(), mount.adjusters.end(),
                   [&](const dish::Adjuster& a) { return a.label == before.front().screw; }) -
      mount.adjusters.begin());
  const double was = displacement_m(session, facet, screw);
  session::apply(session, {act::Change{slips.front().amend}});
  const auto after = session::turned_at(session, facet);
  REQUIRE(after.size() == before.size());
  CHECK(after.front().turns == -before.front().turns);
  const double moved =
      -2.0 * before.front().turns * adjusters::rise_per_turn_m(mount.adjusters[screw]);
  CHECK(displacement_m(session, facet, screw) - was == doctest::Approx(moved).epsilon(1e-9));
  CHECK(session::shown_round(session)->told.front().turns == before.front().turns);
  // The other way round once more is what was told.
  session::apply(session, {act::Change{session::slips_of(session, facet).front().amend}});
  CHECK(session::turned_at(session, facet) == before);
  CHECK(displacement_m(session, facet, screw) == doctest::Approx(was).epsilon(1e-9));
}

TEST_CASE("a confusion of two screws swaps their turns") {
  Session session = with_work();
  const dish::FacetId facet = *session::facet_in_hand(session);
  session::apply(session, {act::MarkWork{act::MarkWork::done}});
  const auto slips = session::slips_of(session, facet);
  const auto swap = std::find_if(slips.begin(), slips.end(), [](const session::Slip& slip) {
    return slip.words.find("I took screw") == 0;
  });
  REQUIRE(swap != slips.end());
  const std::string before = sitting::bytes_of(session);
  session::apply(session, {act::Change{swap->amend}});
  CHECK(sitting::bytes_of(session) != before);
  session::apply(session, {act::Undo{}});
  CHECK(sitting::bytes_of(session) == before);
}

TEST_CASE("without turns there is no work, and that is said") {
  Session session = sitting::at_nominal();
  CHECK(!session::can_work_on_site(session));
  session::apply(session, {act::WorkOnSite{true}});
  CHECK(!session.on_site.shown);
  CHECK(sitting::says(session, "nothing to turn"));
}
