// A sitting kept by the browser comes back as it was; a broken one is a problem.
#include <doctest/doctest.h>

#include "session/figures.h"
#include "session/sitting.h"
#include "support/demo_dishes.h"

namespace {

using session::Session;
namespace act = session::act;

/// A sitting in which nothing is as it starts.
Session lived_in() {
  Session session = sitting::on(support::larch_refuge());
  const dish::FacetId facet = session.document.dish.facets[8].id;
  align::PlanRequest request = session.plan_request;
  request.piston = align::Piston::hold_screw;
  request.held_screw = "a=\\b\nc";
  request.left_out = {true, false, true, false, false, true};
  request.clicks_per_turn = 24;
  request.spot_is_centroid = false;
  request.pivot = align::Pivot::fixed;
  request.spot_sigma_m = 0.00123;
  session::apply(session,
                 {act::SetTheme{session::ThemeChoice::noon}, act::SetSide{dish::Side::front},
                  act::SetTint{session::Tint::travel}, act::SetExposure{-1.5},
                  act::GoToStage{session::Stage::mount}, act::Select{facet, 2},
                  act::SetTrackingError{{0.0011, -0.0007}},
                  sitting::displace(facet.text, 1, 1.0 / 3000.0), act::SetPlanRequest{request}});
  session.hints_done = {true, false, true};
  session.document.file_name = "my dish.dish.json";
  return session;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("a kept sitting comes back with dish, view and settings to the last bit") {
  const Session before = lived_in();
  const std::string kept = session::to_storage(before);
  const auto read = session::from_storage(kept);
  REQUIRE(read.ok());
  const Session& after = read.value();
  CHECK((session::to_storage(after) == kept));
  CHECK((sitting::bytes_of(after) == sitting::bytes_of(before)));
  CHECK(after.stage == session::Stage::mount);
  CHECK(after.preferences.theme == session::ThemeChoice::noon);
  CHECK(after.preferences.side == dish::Side::front);
  CHECK(after.preferences.tint == session::Tint::travel);
  CHECK(after.preferences.exposure_stops == -1.5);
  CHECK(after.selection.selected == before.selection.selected);
  CHECK(after.selection.screw == 2);
  CHECK(after.tracking_error_rad == before.tracking_error_rad);
  CHECK(after.plan_request.piston == align::Piston::hold_screw);
  CHECK(after.plan_request.held_screw == "a=\\b\nc");
  CHECK(after.plan_request.left_out == before.plan_request.left_out);
  CHECK(after.plan_request.clicks_per_turn == 24);
  CHECK_FALSE(after.plan_request.spot_is_centroid);
  CHECK(after.plan_request.pivot == align::Pivot::fixed);
  CHECK(after.hints_done == before.hints_done);
  CHECK(after.document.file_name == "my dish.dish.json");
  CHECK(session::is_unsaved(after.document));
  CHECK(session::is_fresh(after, after.live));
  CHECK(session::light_of(after)->power_receiver_W ==
        doctest::Approx(session::light_of(before)->power_receiver_W).epsilon(1e-9));
}

TEST_CASE("a saved sitting comes back as saved, and an unanswered side stays unanswered") {
  Session session = sitting::at_nominal();
  const auto read = session::from_storage(session::to_storage(session));
  REQUIRE(read.ok());
  CHECK_FALSE(session::is_unsaved(read.value().document));
  CHECK_FALSE(read.value().preferences.side.has_value());
  CHECK_FALSE(read.value().selection.selected.has_value());
}

TEST_CASE("a kept sitting cut off anywhere is a problem, never half a sitting") {
  const std::string kept = session::to_storage(sitting::at_nominal());
  for (std::size_t length = 0; length + 2 < kept.size(); length += length < 700 ? 7 : 501) {
    INFO("cut at ", length);
    CHECK_FALSE(session::from_storage(kept.substr(0, length)).ok());
  }
}

TEST_CASE("values that cannot be are named with their key") {
  const std::string kept = session::to_storage(lived_in());
  for (const auto& change :
       {std::pair{"theme=noon", "theme=mauve"},
        std::pair{"exposure_stops=-1.5", "exposure_stops=1e9"}, std::pair{"screw=2", "screw=1.5"},
        std::pair{"left_out=101001", "left_out=10x001"}, std::pair{"hints=101", "hints=1011"},
        std::pair{"sun_x_rad=0.0011", "sun_x_rad=nan"}}) {
    const std::string to = change.second;
    INFO(to);
    const auto read = session::from_storage(replaced(kept, change.first, to));
    REQUIRE_FALSE(read.ok());
    const std::string key = to.substr(0, to.find('='));
    CHECK(read.problems().front().place.find(key) != std::string::npos);
  }
  CHECK_FALSE(session::from_storage(replaced(kept, "theme=noon", "theme noon")).ok());
  CHECK_FALSE(session::from_storage("something else").ok());
  CHECK_FALSE(session::from_storage(std::string(1000, '\0')).ok());
}

TEST_CASE("what a newer version keeps besides is passed over") {
  const std::string kept = session::to_storage(sitting::at_nominal());
  const auto read = session::from_storage(replaced(kept, "theme=", "moon_phase=full\ntheme="));
  REQUIRE(read.ok());
  CHECK((session::to_storage(read.value()) == kept));
}

TEST_CASE("a facet or a round that is no longer there is let go") {
  const std::string kept = session::to_storage(lived_in());
  const std::string id = lived_in().selection.selected->text;
  std::string changed = replaced(kept, "selected=" + id, "selected=gone");
  changed = replaced(changed, "round=0", "round=41");
  const auto read = session::from_storage(changed);
  REQUIRE(read.ok());
  CHECK_FALSE(read.value().selection.selected.has_value());
  CHECK(read.value().selection.screw == -1);
  CHECK(read.value().round == 0);
}

TEST_CASE("saving gives the file's bytes and a name that fits, and sharing the same dish") {
  Session session = lived_in();
  session.document.file_name = "Ünser Spiegel.json";
  session::apply(session, {act::Save{}, act::ShareLink{}, act::AskOpen{}});
  REQUIRE(session.outbox.saves.size() == 1);
  CHECK(session.outbox.saves[0].name == "Ünser Spiegel.dish.json");
  CHECK((session.outbox.saves[0].bytes == sitting::bytes_of(session)));
  CHECK((*session.outbox.link == sitting::bytes_of(session)));
  CHECK(session.outbox.ask_open);
  CHECK_FALSE(session::is_unsaved(session.document));
  Session unnamed = sitting::at_nominal();
  unnamed.document.file_name.clear();
  session::apply(unnamed, {act::Save{}});
  CHECK(unnamed.outbox.saves[0].name == "larch-refuge.dish.json");
}
