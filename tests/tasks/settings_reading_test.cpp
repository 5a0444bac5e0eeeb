// Settings of a request: types, ranges, and keys that nobody knows.
#include <doctest/doctest.h>

#include "tasks/json.h"
#include "tasks/settings.h"

using tasks::Json;

TEST_CASE("settings of the right type and range are taken") {
  const Json json = Json::parse(R"({"a": 2, "b": 18446744073709551615, "c": [1, -2], "d": "x"})");
  tasks::Settings settings(json, "request");
  CHECK(settings.number("a", 0.0, 5.0).value() == 2.0);
  CHECK(settings.whole("b", 0, ~std::uint64_t{0}).value() == ~std::uint64_t{0});
  CHECK(settings.pair("c", -5.0, 5.0).value().y == -2.0);
  CHECK(settings.word("d", {"x", "y"}).value() == "x");
  CHECK_FALSE(settings.number("absent", 0.0, 1.0).has_value());
  CHECK(settings.finish().empty());
}

TEST_CASE("every wrong setting is told, with its key and what was expected") {
  const Json json = Json::parse(
      R"({"a": "two", "b": -1, "c": [1, 2, 3], "d": "z", "e": 1, "f": 9, "extra": {}})");
  tasks::Settings settings(json, "request");
  CHECK_FALSE(settings.number("a", 0.0, 5.0).has_value());
  CHECK_FALSE(settings.whole("b", 0, 9).has_value());
  CHECK_FALSE(settings.pair("c", -5.0, 5.0).has_value());
  CHECK_FALSE(settings.word("d", {"x", "y"}).has_value());
  CHECK_FALSE(settings.yes_or_no("e").has_value());
  CHECK_FALSE(settings.number("f", 0.0, 5.0).has_value());
  const base::Problems problems = settings.finish();
  REQUIRE(problems.size() == 7);
  CHECK(base::to_line(problems[0]) == "request.a: \"two\"; expected a number from 0 to 5");
  CHECK(base::to_line(problems[1]) == "request.b: -1; expected a whole number from 0 to 9");
  CHECK(base::to_line(problems[3]) == "request.d: \"z\"; expected one of x, y");
  CHECK(problems[6].place == "request.extra");
}

TEST_CASE("what is no object has no settings") {
  const Json json = Json::array();
  tasks::Settings settings(json, "request");
  CHECK_FALSE(settings.text("task").has_value());
  CHECK(settings.finish().size() == 1);
}
