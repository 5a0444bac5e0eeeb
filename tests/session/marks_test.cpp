// Which stages carry a mark, why, and where it leads.
#include <doctest/doctest.h>

#include "session/marks.h"
#include "session/notices.h"
#include "session/sitting.h"

namespace {

using session::Session;
using session::Stage;
namespace act = session::act;

}  // namespace

TEST_CASE("a place is set right at the stage it belongs to") {
  CHECK(session::stage_of_place("round Monday") == Stage::align);
  CHECK(session::stage_of_place("mount M6, screw 2") == Stage::mount);
  CHECK(session::stage_of_place("spring soft") == Stage::mount);
  CHECK(session::stage_of_place("facet A3, screw 1") == Stage::mount);
  CHECK(session::stage_of_place("facet A3") == Stage::lay_out);
  CHECK(session::stage_of_place("facet type small") == Stage::lay_out);
  CHECK(session::stage_of_place("receiver") == Stage::lay_out);
}

TEST_CASE("a spot that no facet can have sent marks the alignment and leads to the facet") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::SpotsFromLight{}});
  CHECK_FALSE(session::mark_of(session, Stage::align).has_value());
  const dish::FacetId facet = session.document.dish.facets[4].id;
  const dish::Spot far{.facet = facet, .seen_m = {5.0, 5.0}};
  session::apply(session, {act::Change{dish::edit::SetSpot{0, far}}});
  const auto mark = session::mark_of(session, Stage::align);
  REQUIRE(mark.has_value());
  REQUIRE_FALSE(mark->reasons.empty());
  REQUIRE(mark->facet.has_value());
  CHECK(*mark->facet == facet);
  session::apply(session, session::go_to(*mark));
  CHECK(session.stage == Stage::align);
  CHECK(*session.selection.selected == facet);
}

TEST_CASE("a screw beyond its travel is a doubt that marks a stage and goes away with it") {
  Session session = sitting::at_nominal();
  const auto before = session::marks(session).size();
  const dish::Facet& facet = session.document.dish.facets[2];
  const dish::Mount& mount = *dish::find_mount(session.document.dish, facet.mount);
  session::apply(session,
                 {sitting::displace(facet.id.text, 0, mount.adjusters[0].travel_max_m + 0.001)});
  REQUIRE(session.document.undo_steps.size() == 1);
  const auto marks = session::marks(session);
  bool found = false;
  for (const session::Mark& mark : marks)
    found = found || (mark.facet && *mark.facet == session.document.dish.facets[2].id);
  CHECK(found);
  session::apply(session, {act::Undo{}});
  CHECK(session::marks(session).size() == before);
}

TEST_CASE("notices stay few and short, and a repeated one takes its old place") {
  Session session = sitting::at_nominal();
  for (int i = 0; i < 9; ++i) session::tell(session, {.title = std::to_string(i % 7)});
  CHECK(session.notices.size() == session::k_most_notices);
  CHECK(session.notices.back().title == "1");
  session::tell(session, {.title = "long", .lines = std::vector<std::string>(50, "line")});
  CHECK(session.notices.back().lines.size() == session::k_most_notice_lines);
  CHECK(session.notices.back().lines.back() == "and 43 more");
  session::apply(session, {act::DismissNotice{99}});
  CHECK(session.notices.size() == session::k_most_notices);
  session::apply(session, {act::DismissNotice{0}});
  CHECK(session.notices.size() == session::k_most_notices - 1);
}
