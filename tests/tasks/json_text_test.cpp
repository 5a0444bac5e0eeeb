// JSON of requests and replies: numbers that round-trip, no NaN, one layout.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "tasks/json.h"

using tasks::Json;

TEST_CASE("numbers are written with the fewest digits that read back to the same bits") {
  CHECK(tasks::to_text(Json(0.1)) == "0.1");
  CHECK(tasks::to_text(Json(-0.0)) == "0");
  CHECK(tasks::to_text(Json(1.0 / 3.0)) == "0.3333333333333333");
  for (const double value : {5e-324, 1.7976931348623157e308, 9007199254740993.0, -2.5e-7}) {
    const auto read = tasks::parse_json(tasks::to_text(Json(value)), "text");
    REQUIRE(read.ok());
    CHECK(read.value().get<double>() == value);
  }
}

TEST_CASE("what is no number is null, never NaN or an infinity") {
  CHECK(tasks::to_text(tasks::number(std::nan(""))) == "null");
  CHECK(tasks::to_text(Json(std::numeric_limits<double>::infinity())) == "null");
  CHECK(tasks::to_text(tasks::numbers(base::Vec2(0.001, std::nan("")), 1000.0)) == "[1, null]");
}

TEST_CASE("short objects stand on one line, keys stay in the order they were put") {
  const Json json{{"zeta", 1}, {"alpha", Json::array({Json{{"id", "A1"}, {"at_mm", {1.5, -2}}}})}};
  CHECK(tasks::to_text(json) ==
        "{\n  \"zeta\": 1,\n  \"alpha\": [\n    {\"id\": \"A1\", \"at_mm\": [1.5, -2]}\n  ]\n}");
  CHECK(tasks::to_dense_text(json) == R"({"zeta":1,"alpha":[{"id":"A1","at_mm":[1.5,-2]}]})");
}

TEST_CASE("text that is not UTF-8 still gives JSON that can be read") {
  const auto read = tasks::parse_json(tasks::to_text(Json("a\xFF\"\n")), "text");
  REQUIRE(read.ok());
  CHECK(read.value().get<std::string>() == "a\xEF\xBF\xBD\"\n");
}

TEST_CASE("broken JSON is named by line and column") {
  const auto read = tasks::parse_json("{\n  \"a\": 1,,\n}", "request");
  REQUIRE_FALSE(read.ok());
  CHECK(read.problems()[0].place == "request, line 2, column 10");
  CHECK_FALSE(tasks::parse_json("", "request").ok());
  CHECK_FALSE(tasks::parse_json("[1e999]", "request").ok());
}

TEST_CASE("a member's own text is found among strings and brackets that look like others") {
  const std::string text =
      R"( {"a\"dish": {"dish": "}{"}, "list": [{"dish": 1}, "]"], "dish" : {"x": [1.10, "\\"]} ,"z":2})";
  REQUIRE(Json::parse(text).size() == 4);
  CHECK(tasks::member_text(text, "dish") == R"( {"x": [1.10, "\\"]} )");
  CHECK(tasks::member_text(text, "z") == "2");
  CHECK(tasks::member_text(text, "x").empty());
  CHECK(tasks::member_text("[]", "x").empty());
}
