// Laws of undo, redo and drags.
#include <doctest/doctest.h>

#include "dish/defaults.h"
#include "files/dish_write.h"
#include "session/document.h"

namespace {

using session::Document;

Document opened() {
  Document document;
  document.dish = dish::default_dish();
  document.file_name = "first.dish.json";
  return document;
}

std::string bytes(const Document& document) { return files::write_dish(document.dish); }

Document renamed(Document document, const std::string& name) {
  auto changed = session::edit(std::move(document), dish::edit::SetName{name});
  REQUIRE(changed.ok());
  return std::move(changed).value();
}

dish::Edit turn(const Document& document, double displacement_m) {
  return dish::edit::SetDisplacement{document.dish.facets.front().id, 1, displacement_m};
}

Document turned(Document document, double displacement_m) {
  const dish::Edit edit = turn(document, displacement_m);
  auto changed = session::edit(std::move(document), edit);
  REQUIRE(changed.ok());
  return std::move(changed).value();
}

}  // namespace

TEST_CASE("undo brings back the very bytes, and redo the changed ones") {
  const Document before = opened();
  const Document after = turned(before, 0.0003);
  REQUIRE(bytes(after) != bytes(before));
  const Document back = session::undo(after);
  CHECK(bytes(back) == bytes(before));
  CHECK(bytes(session::redo(back)) == bytes(after));
}

TEST_CASE("many steps go back and forth in their order, each with its title") {
  Document document = opened();
  std::vector<std::string> states{bytes(document)};
  for (const char* name : {"one", "two", "three"}) {
    document = renamed(document, name);
    states.push_back(bytes(document));
  }
  for (std::size_t i = 3; i-- > 0;) {
    CHECK(document.undo_steps.back().title == "Rename the dish");
    document = session::undo(document);
    CHECK(bytes(document) == states[i]);
  }
  for (std::size_t i = 1; i <= 3; ++i) {
    document = session::redo(document);
    CHECK(bytes(document) == states[i]);
  }
}

TEST_CASE("undo and redo with nothing to go to change nothing, not even the revision") {
  const Document document = opened();
  CHECK(session::undo(document).revision == document.revision);
  CHECK(session::redo(document).revision == document.revision);
}

TEST_CASE("every change is a new revision, also when it goes back") {
  const Document first = opened();
  const Document second = turned(first, 0.0003);
  const Document third = session::undo(second);
  const Document fourth = session::redo(third);
  CHECK(first.revision < second.revision);
  CHECK(second.revision < third.revision);
  CHECK(third.revision < fourth.revision);
}

TEST_CASE("a new change ends what could be redone") {
  Document document = session::undo(renamed(opened(), "one"));
  REQUIRE(document.redo_steps.size() == 1);
  document = renamed(document, "two");
  CHECK(document.redo_steps.empty());
}

TEST_CASE("a refused edit leaves dish, revision and history as they were") {
  const Document before = renamed(opened(), "one");
  const auto refused =
      session::edit(before, dish::edit::SetDisplacement{dish::FacetId{"no such facet"}, 0, 0.001});
  REQUIRE_FALSE(refused.ok());
  CHECK_FALSE(refused.problems().empty());
}

TEST_CASE("several edits are one step, or none of them when one is refused") {
  const Document before = opened();
  const dish::Edit name = dish::edit::SetName{"both"};
  const auto both = session::edit_all(before, {name, turn(before, 0.0002)}, "Both");
  REQUIRE(both.ok());
  CHECK(both.value().undo_steps.size() == 1);
  CHECK(both.value().undo_steps.back().title == "Both");
  CHECK(bytes(session::undo(both.value())) == bytes(before));
  CHECK_FALSE(session::edit_all(before, {name, dish::edit::RemoveRound{9}}, "Both").ok());
}

TEST_CASE("a drag is one step with its own name, however many edits it holds") {
  const Document before = opened();
  Document document = session::open_step(before, "Turn screw 2");
  for (int i = 1; i <= 50; ++i) document = turned(document, i * 1e-5);
  document = session::close_step(document);
  REQUIRE(document.undo_steps.size() == 1);
  CHECK(document.undo_steps.back().title == "Turn screw 2");
  CHECK(bytes(session::undo(document)) == bytes(before));
}

TEST_CASE("giving a drag up restores the bytes and what could be redone") {
  const Document before = session::undo(renamed(opened(), "one"));
  Document document = session::open_step(before, "Turn screw 2");
  document = turned(turned(document, 0.0001), 0.0002);
  document = session::abandon_step(document);
  CHECK(bytes(document) == bytes(before));
  CHECK_FALSE(document.step_open);
  CHECK(document.undo_steps.size() == before.undo_steps.size());
  CHECK(bytes(session::redo(document)) == bytes(session::redo(before)));
}

TEST_CASE("a drag in which nothing changed leaves no step and ends no redo") {
  const Document before = session::undo(renamed(opened(), "one"));
  const Document after = session::close_step(session::open_step(before, "Turn screw 2"));
  CHECK(after.undo_steps.size() == before.undo_steps.size());
  CHECK(after.redo_steps.size() == 1);
  CHECK(after.revision == before.revision);
}

TEST_CASE("undo in the middle of a drag takes the drag back") {
  const Document before = opened();
  const Document dragging = turned(session::open_step(before, "Turn screw 2"), 0.0002);
  const Document after = session::undo(dragging);
  CHECK_FALSE(after.step_open);
  CHECK(bytes(after) == bytes(before));
  CHECK(bytes(session::redo(after)) == bytes(dragging));
}

TEST_CASE("closing and giving up without an open drag do nothing") {
  const Document document = renamed(opened(), "one");
  CHECK(session::close_step(document).revision == document.revision);
  CHECK(session::abandon_step(document).undo_steps.size() == 1);
}

TEST_CASE("another dish in place keeps the old one, with its file name, one undo away") {
  const Document before = renamed(opened(), "mine");
  dish::Dish other = dish::default_dish();
  other.name = "Other";
  const Document after = session::replace_dish(before, other, "other.dish.json");
  CHECK(after.file_name == "other.dish.json");
  CHECK(after.undo_steps.back().title == "Open Other");
  CHECK_FALSE(session::is_unsaved(after));
  const Document back = session::undo(after);
  CHECK(bytes(back) == bytes(before));
  CHECK(back.file_name == "first.dish.json");
  CHECK(session::is_unsaved(back));
}

TEST_CASE("a dish that was saved counts as saved again when undo or redo brings it back") {
  const Document saved = opened();
  const Document changed = renamed(saved, "one");
  CHECK(session::is_unsaved(changed));
  CHECK_FALSE(session::is_unsaved(session::undo(changed)));
  CHECK(session::is_unsaved(session::redo(session::undo(changed))));
  Document saved_later = changed;
  saved_later.saved_revision = saved_later.revision;
  const Document back = session::undo(saved_later);
  CHECK(session::is_unsaved(back));
  CHECK_FALSE(session::is_unsaved(session::redo(back)));
}

TEST_CASE("the history forgets its oldest steps beyond the budget and always keeps the newest") {
  Document document = opened();
  for (int i = 0; i < 10; ++i) document = turned(document, (i + 1) * 1e-5);
  const std::size_t each = session::estimate_bytes(document.dish);
  const Document four = session::trim_history(document, 4 * each + each / 2);
  REQUIRE(four.undo_steps.size() == 4);
  CHECK(four.undo_steps.back().revision == document.undo_steps.back().revision);
  CHECK(session::trim_history(document, 1).undo_steps.size() == 1);
  CHECK(session::trim_history(document, session::k_history_budget_bytes).undo_steps.size() == 10);
}

TEST_CASE("copying a document shares its history instead of copying it") {
  const Document document = turned(opened(), 0.0001);
  const Document copy = document;
  CHECK(copy.undo_steps.front().dish.get() == document.undo_steps.front().dish.get());
}
