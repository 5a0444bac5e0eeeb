// What is made anew after which change, and that the result is as if everything were.
#include <doctest/doctest.h>

#include <cmath>

#include "session/derive.h"
#include "session/figures.h"
#include "session/sitting.h"
#include "support/demo_dishes.h"

namespace {

using session::Session;
namespace act = session::act;

/// A facet's ray: it stays where it is in memory until its light is made anew.
const base::Vec3* place_of_light(const Session& session, std::size_t facet) {
  return session.live.value->spots[facet].chief_path.data();
}

}  // namespace

TEST_CASE("a fresh sitting has light, presets, stances and findings, and no plan without a round") {
  const Session session = sitting::at_nominal();
  CHECK(session::is_fresh(session, session.live));
  CHECK(session::is_fresh(session, session.presets));
  CHECK(session::is_fresh(session, session.stances));
  CHECK(session::is_fresh(session, session.findings));
  CHECK_FALSE(session.plan.value.has_value());
  CHECK(session.plan.problems.empty());
  CHECK(session.live.value->spots.size() == session.document.dish.facets.size());
}

TEST_CASE("the story of the rounds never outlives its rounds") {
  Session session = sitting::on(support::larch_refuge());
  session::apply(session, {act::GoToStage{session::Stage::align}});
  session::rested(session);
  REQUIRE(session.story.value.has_value());
  // A screw leaves the log alone: the story stays until the next rest tells it anew.
  session::apply(session, {sitting::displace(sitting::id_of(session, 0), 0, 1e-4)});
  CHECK(session.story.value.has_value());
  session::apply(session, {act::OpenDemo{"Kiln Yard"}});
  CHECK_FALSE(session.story.value.has_value());
  session::rested(session);
  CHECK_FALSE(session.story.value.has_value());
}

TEST_CASE("wishes that leave the dish alone recompute nothing") {
  Session session = sitting::on(support::larch_refuge());
  const base::Vec3* light = place_of_light(session, 0);
  const auto* presets = session.presets.value->data();
  const auto* plan = session.plan.value->facets.data();
  session::apply(session, {act::Hover{dish::FacetId{sitting::id_of(session, 3)}},
                           act::GoToStage{session::Stage::light}, act::SetExposure{1.0},
                           act::SetTint{session::Tint::tilt}, act::SelectNext{1}});
  CHECK(place_of_light(session, 0) == light);
  CHECK(session.presets.value->data() == presets);
  CHECK(session.plan.value->facets.data() == plan);
}

TEST_CASE("words and rounds leave the light alone, and it counts as fresh") {
  Session session = sitting::at_nominal();
  const base::Vec3* light = place_of_light(session, 0);
  const auto* presets = session.presets.value->data();
  session::apply(session, {act::Change{dish::edit::SetName{"Renamed"}},
                           act::Change{dish::edit::SetNote{"note"}}});
  CHECK(place_of_light(session, 0) == light);
  CHECK(session.presets.value->data() == presets);
  CHECK(session::is_fresh(session, session.live));
  CHECK(session::is_fresh(session, session.presets));
  CHECK(session::is_fresh(session, session.stances));
  CHECK(session::is_fresh(session, session.findings));
}

TEST_CASE("after one screw's drag everything is as a fresh sitting on that dish has it") {
  Session session = sitting::at_nominal();
  const std::string facet = sitting::id_of(session, 7);
  session::apply(session, {act::BeginDrag{"Turn"}});
  for (int i = 1; i <= 5; ++i) session::apply(session, {sitting::displace(facet, 1, i * 1.1e-4)});
  session::apply(session, {act::EndDrag{}});
  const Session anew = sitting::on(session.document.dish);
  const auto& live = *session.live.value;
  const auto& fresh = *anew.live.value;
  const double incident_W = fresh.figures.ledger.incident_W;
  CHECK(std::abs(live.figures.power_receiver_W - fresh.figures.power_receiver_W) <
        1e-9 * incident_W);
  CHECK(std::abs(live.figures.ledger.spillage_W - fresh.figures.ledger.spillage_W) <
        1e-9 * incident_W);
  for (std::size_t i = 0; i < live.spots.size(); ++i) {
    CHECK(glm::length(live.spots[i].chief_m - fresh.spots[i].chief_m) < 1e-12);
    CHECK(std::abs(live.spots[i].receiver_W - fresh.spots[i].receiver_W) < 1e-9 * incident_W);
    CHECK((*session.stances.value)[i].tilt_rad == (*anew.stances.value)[i].tilt_rad);
    CHECK((*session.presets.value)[i].screws[1].displacement_m ==
          (*anew.presets.value)[i].screws[1].displacement_m);
  }
}

TEST_CASE("turning a screw moves its own facet's spot and makes no far facet's anew") {
  Session session = sitting::at_nominal();
  const auto before = session.live.value->spots;
  // An outer facet stands in nobody's light behind the secondary.
  const std::size_t outer = before.size() - 1;
  const base::Vec3* far_light = place_of_light(session, 0);
  session::apply(session, {sitting::displace(sitting::id_of(session, outer), 0, 5e-4)});
  const auto& after = session.live.value->spots;
  CHECK(glm::length(after[outer].chief_m - before[outer].chief_m) > 1e-3);
  CHECK(glm::length(after[0].chief_m - before[0].chief_m) == 0.0);
  CHECK(place_of_light(session, 0) == far_light);
  CHECK((*session.stances.value)[outer].tilt_rad > 1e-3);
  CHECK((*session.stances.value)[0].tilt_rad < 1e-12);
}

TEST_CASE("two wishes in one frame that touch two facets bring both up to date") {
  Session session = sitting::at_nominal();
  session::apply(session, {sitting::displace(sitting::id_of(session, 2), 0, 3e-4),
                           sitting::displace(sitting::id_of(session, 9), 2, -3e-4)});
  const Session anew = sitting::on(session.document.dish);
  for (const std::size_t i : {std::size_t{2}, std::size_t{9}})
    CHECK(glm::length(session.live.value->spots[i].chief_m - anew.live.value->spots[i].chief_m) <
          1e-12);
}

TEST_CASE("another sun is another light and the same presets") {
  Session session = sitting::at_nominal();
  const base::Vec2 before = session.live.value->figures.centroid_m;
  const auto* presets = session.presets.value->data();
  session::apply(session, {act::SetTrackingError{{0.002, 0.0}}});
  CHECK(glm::length(session.live.value->figures.centroid_m - before) > 1e-3);
  CHECK(session.presets.value->data() == presets);
  session::apply(session, {act::SetTrackingError{{0.0, 0.0}}});
  CHECK(glm::length(session.live.value->figures.centroid_m - before) < 1e-12);
}

TEST_CASE("a sun beyond any tracking error is refused with a notice") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::SetTrackingError{{9.0, 0.0}}});
  CHECK(session.tracking_error_rad == base::Vec2(0.0, 0.0));
  CHECK(sitting::says(session, "The sun was not moved"));
}

TEST_CASE("undo brings the light back with the dish") {
  Session session = sitting::at_nominal();
  const base::Vec2 before = session.live.value->spots[4].chief_m;
  session::apply(session, {sitting::displace(sitting::id_of(session, 4), 0, 4e-4)});
  session::apply(session, {act::Undo{}});
  CHECK(glm::length(session.live.value->spots[4].chief_m - before) < 1e-12);
  session::apply(session,
                 {act::BeginDrag{"Turn"}, sitting::displace(sitting::id_of(session, 4), 0, 4e-4),
                  act::CancelDrag{}});
  CHECK(glm::length(session.live.value->spots[4].chief_m - before) < 1e-12);
}

TEST_CASE("a facet that cannot reach its aim leaves problems beside the results, until it can") {
  Session session = sitting::at_nominal();
  // Light from this facet cannot go by way of a secondary that lies under it.
  dish::Secondary secondary = *session.document.dish.secondary;
  secondary.vertex_m.z = -1.0;
  session::apply(session, {act::Change{dish::edit::SetSecondary{secondary}}});
  const bool refused = !session.notices.empty();
  if (!refused) {
    CHECK_FALSE(session.presets.problems.empty());
    CHECK_FALSE(session.presets.value.has_value());
    CHECK_FALSE(session.stances.value.has_value());
    session::apply(session, {act::Undo{}});
  }
  CHECK(session.presets.problems.empty());
  CHECK(session::is_fresh(session, session.presets));
  CHECK(session::is_fresh(session, session.live));
}

TEST_CASE("what is selected is let go when it is no longer there") {
  Session session = sitting::at_nominal();
  const dish::FacetId facet{sitting::id_of(session, 5)};
  session::apply(session, {act::Select{facet, 1}, act::Hover{facet}});
  REQUIRE(session.selection.screw == 1);
  session::apply(session, {act::Change{dish::edit::RemoveFacet{facet}}});
  CHECK_FALSE(session.selection.selected.has_value());
  CHECK_FALSE(session.selection.hovered.has_value());
  CHECK(session.selection.screw == -1);
  session::apply(session, {act::Select{facet}});
  CHECK_FALSE(session.selection.selected.has_value());
}

TEST_CASE("a refused edit says why and changes nothing") {
  Session session = sitting::at_nominal();
  const std::string before = sitting::bytes_of(session);
  session::apply(session, {sitting::displace("no such facet", 0, 1e-4)});
  CHECK((sitting::bytes_of(session) == before));
  CHECK(session.document.undo_steps.empty());
  CHECK(sitting::says(session, "Not changed"));
  CHECK(sitting::says(session, "no such facet"));
}
