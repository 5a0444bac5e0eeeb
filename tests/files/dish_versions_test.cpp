// Files of other versions: older ones are migrated to the same bytes, newer ones survive.
#include <doctest/doctest.h>

#include <algorithm>

#include "everything.h"
#include "files/dish_read.h"
#include "files/dish_write.h"
#include "support/paths.h"

namespace {

files::ReadDish opened(const std::string& text) {
  base::Result<files::ReadDish> result = files::read_dish(text, "t.dish.json");
  REQUIRE_MESSAGE(result.ok(), base::to_text(result.ok() ? base::Problems{} : result.problems()));
  return std::move(result).value();
}

std::string fixture(const std::string& name) {
  return support::read_whole_file(support::source_path("tests/fixtures/" + name));
}

/// The text with a member put in behind some place in it.
std::string with_member(std::string text, const std::string& behind, const std::string& member) {
  const std::size_t at = text.find(behind);
  REQUIRE(at != std::string::npos);
  return text.insert(at + behind.size(), member);
}

bool has_note(const files::ReadDish& dish, const std::string& part) {
  return std::any_of(dish.notes.begin(), dish.notes.end(),
                     [&](const std::string& note) { return note.find(part) != std::string::npos; });
}

}  // namespace

TEST_CASE("a file of version 0 migrates to the bytes of version 1") {
  const files::ReadDish old = opened(fixture("drafts-version-0.dish.json"));
  CHECK(files::write_dish(old.dish) == fixture("drafts-version-1.dish.json"));
  CHECK(has_note(old, "brought from version 0 to 1"));
  CHECK(old.dish.mounts[0].adjusters[1].pitch_m == 0.0007);
  CHECK(old.dish.facets[0].centre_m == base::Vec3{0.25, 0.0, 0.0078125});
}

TEST_CASE("problems of a migrated file keep their lines") {
  std::string text = fixture("drafts-version-0.dish.json");
  const std::string pitch = "\"pitch_m\": 0.0007";
  text.replace(text.find(pitch), pitch.size(), "\"pitch_m\": 7");
  const auto result = files::read_dish(text, "old.dish.json");
  REQUIRE(!result.ok());
  CHECK(base::to_line(result.problems()[0]) ==
        "old.dish.json, line 9, mounts/M6/adjusters[1]/pitch_mm: 7000; expected 0.2 to 10 mm");
}

TEST_CASE("keys of another version are kept where they stood, and told") {
  std::string text = files::write_dish(everything::dish());
  text = with_member(text, "{\"id\": \"A1\"", ", \"colour\": {\"shade\": [1, 2.50], \"x\": null}");
  text = with_member(text, "\"label\": \"left\"", ", \"wear\": \"little\"");
  text = with_member(text, "\"width_mm\": 210", ", \"glazed\": true");
  text = with_member(text, "\"version\": 1", ",\n  \"later\": 0.70");
  text = with_member(text, "\"light\": \"lamp\"", ", \"watts\": 60");
  const files::ReadDish first = opened(text);
  CHECK(first.dish.unknown.size() == 5);
  CHECK(has_note(first, "facets/A1/colour: not a key of this version; kept as it is"));
  CHECK(has_note(first, "mounts/\"three M6\"/adjusters[1]/wear"));

  const std::string written = files::write_dish(first.dish);
  CHECK(written.find("\"colour\": {\"shade\": [1, 2.50], \"x\": null}") != std::string::npos);
  CHECK(written.find("\"wear\": \"little\"") != std::string::npos);
  CHECK(written.find("\"later\": 0.70") != std::string::npos);
  CHECK(written.find("\"watts\": 60") != std::string::npos);
  CHECK(written.find("\"glazed\": true") != std::string::npos);
  const files::ReadDish second = opened(written);
  CHECK(files::write_dish(second.dish) == written);
  CHECK(second.dish.unknown.size() == 5);
}

TEST_CASE("a kept key goes with its facet, and never stands beside a key of its name") {
  const std::string text = with_member(files::write_dish(everything::dish()), "{\"id\": \"A1\"",
                                       ", \"colour\": \"red\"");
  dish::Dish dish = opened(text).dish;
  dish.rounds.clear();
  dish.facets.erase(dish.facets.begin());
  CHECK(files::write_dish(dish).find("colour") == std::string::npos);

  // A disc's width is not known, until an edit makes it a rectangle.
  dish = opened(R"({"format": "facetwright dish", "version": 1,
                  "receiver": {"shape": "disc", "width_mm": 123}})")
             .dish;
  CHECK(files::write_dish(dish).find("\"width_mm\": 123") != std::string::npos);
  dish.receiver.shape = dish::RectangleReceiver{0.3, 0.2};
  const std::string written = files::write_dish(dish);
  CHECK(written.find("123") == std::string::npos);
  CHECK(files::read_dish(written, "t").ok());
}

TEST_CASE("a mistyped key is told with the key that was probably meant") {
  const files::ReadDish dish =
      opened(R"({"format": "facetwright dish", "version": 1, "reciever": {}})");
  CHECK(has_note(dish,
                 "reciever: not a key of this version; kept as it is (did you mean receiver?)"));
}

TEST_CASE("a newer file is read as well as can be and keeps its version") {
  const std::string text =
      R"({"format": "facetwright dish", "version": 7, "name": "Later", "moon": {"phase": 0.5}})";
  const files::ReadDish dish = opened(text);
  CHECK(dish.dish.name == "Later");
  CHECK(has_note(dish, "version 7"));
  const std::string written = files::write_dish(dish.dish);
  CHECK(written.find("\"version\": 7") != std::string::npos);
  CHECK(written.find("\"moon\": {\"phase\": 0.5}") != std::string::npos);
  CHECK(files::write_dish(opened(written).dish) == written);
}
