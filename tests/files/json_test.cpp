// The JSON tree: lines, numbers as written, limits, and messages that say where and what.
#include <doctest/doctest.h>

#include <string>

#include "files/json_value.h"
#include "files/json_writer.h"
#include "support/says.h"

namespace {

files::JsonValue parsed(const std::string& text) {
  base::Result<files::JsonValue> result = files::parse_json(text, "t.json");
  REQUIRE_MESSAGE(result.ok(), text);
  return std::move(result).value();
}

std::string json_refusal(const std::string& text) {
  const base::Result<files::JsonValue> result = files::parse_json(text, "t.json");
  REQUIRE_MESSAGE(!result.ok(), text);
  return base::to_line(result.problems().front());
}

}  // namespace

TEST_CASE("numbers keep their decimal text") {
  CHECK(parsed("0.70").text == "0.70");
  CHECK(parsed("-12.50e-3").text == "-12.50e-3");
  CHECK(parsed("250").text == "250");
  CHECK(parsed("-7").text == "-7");
  CHECK(parsed("123456789012345678901234567890").text == "123456789012345678901234567890");
}

TEST_CASE("values know the line they begin on") {
  const files::JsonValue root = parsed("{\n  \"a\": 1\n,\"b\":\n[\n2,\n3\n]\n,\"c\": {\n}\r\n}\n");
  CHECK(root.line == 1);
  CHECK(files::find_member(root, "a")->line == 2);
  const files::JsonValue* list = files::find_member(root, "b");
  CHECK(list->line == 4);
  CHECK(list->children[0].line == 5);
  CHECK(list->children[1].line == 6);
  CHECK(files::find_member(root, "c")->line == 8);
}

TEST_CASE("a number that a line break ends stands on the line before it") {
  const files::JsonValue root = parsed("[1\n,2\n\n]");
  CHECK(root.children[0].line == 1);
  CHECK(root.children[1].line == 2);
}

TEST_CASE("order of keys is kept and members are found") {
  const files::JsonValue root = parsed(R"({"z": 1, "a": {"b": null}, "m": [true, false]})");
  CHECK(root.children[0].key == "z");
  CHECK(root.children[1].key == "a");
  CHECK(root.children[1].children[0].key == "b");
  CHECK(root.children[2].key == "m");
  CHECK(files::find_member(root, "q") == nullptr);
  CHECK(files::find_member(root.children[0], "q") == nullptr);
}

TEST_CASE("compact text of a tree parses back to the same text") {
  const std::string text =
      R"({"a": [1, 2.50, -3e-7], "b": {}, "c": [], "d": "q\"\\\n\u0001é", "e": null, "f": true})";
  CHECK(files::compact_json(parsed(text)) == text);
}

TEST_CASE("pretty text: short things on one line, lists of things one line each") {
  const std::string text =
      R"({"a": [1, 2], "list": [{"x": 1, "y": [1, 2]}, {"x": 2}], "rounds": [{"spots": [{"f": 1}]}]})";
  CHECK(files::pretty_json(parsed(text)) ==
        "{\n"
        "  \"a\": [1, 2],\n"
        "  \"list\": [\n"
        "    {\"x\": 1, \"y\": [1, 2]},\n"
        "    {\"x\": 2}\n"
        "  ],\n"
        "  \"rounds\": [\n"
        "    {\n"
        "      \"spots\": [\n"
        "        {\"f\": 1}\n"
        "      ]\n"
        "    }\n"
        "  ]\n"
        "}\n");
}

TEST_CASE("a byte-order mark is skipped and does not shift columns") {
  CHECK(parsed("\xEF\xBB\xBF[1]").children.size() == 1);
  CHECK(support::says(json_refusal("\xEF\xBB\xBF[1 2]"), "line 1, column 4"));
}

TEST_CASE("syntax errors say line, column and what was expected") {
  CHECK(json_refusal("{\"a\": 1\n \"b\": 2}") ==
        "t.json, line 2, column 2: \"b\"; expected a comma or }");
  CHECK(json_refusal("[1, 2\n3]") == "t.json, line 2, column 1: 3; expected a comma or ]");
  CHECK(json_refusal("{\"a\" 1}") == "t.json, line 1, column 6: 1; expected a colon after the key");
  CHECK(json_refusal("{a: 1}") == "t.json, line 1, column 2: a; expected a key in double quotes");
  CHECK(json_refusal("{\"a\": 1,}") ==
        "t.json, line 1, column 9: }; expected a key in double quotes");
  CHECK(json_refusal("[1, 2") ==
        "t.json, line 1, column 6: the file ends here; expected a comma or ]");
  CHECK(support::says(json_refusal("{\"a\":\n\n  tru}"), "line 3, column"));
  CHECK(support::says(json_refusal("{\"a\": 'x'}"), "expected a value"));
  CHECK(support::says(json_refusal("{} {}"), "nothing after the end"));
  CHECK(support::says(json_refusal("[1.]"), "a number such as"));
  CHECK(support::says(json_refusal("[01]"), "a comma or ]"));
  CHECK(support::says(json_refusal("// words\n{}"), "expected a value"));
}

TEST_CASE("columns count characters, not bytes") {
  CHECK(support::says(json_refusal("{\"é\": 1 2}"), "line 1, column 9"));
}

TEST_CASE("numbers that are none are refused by name") {
  CHECK(support::says(json_refusal("[NaN]"), "NaN; expected a finite number"));
  CHECK(support::says(json_refusal("[Infinity]"), "Infinity; expected a finite number"));
  CHECK(support::says(json_refusal("[\n-Infinity]"),
                      "line 2, column 2: Infinity; expected a finite number"));
  CHECK(support::says(json_refusal("[1e999]"), "a number of ordinary size"));
  CHECK(support::says(json_refusal("[0." + std::string(500, '1') + "]"), "400 characters"));
}

TEST_CASE("text that is no text is refused") {
  CHECK(support::says(json_refusal("[\"\xFF\"]"), "text in UTF-8"));
  CHECK(support::says(json_refusal("[\"\xC0\xAF\"]"), "text in UTF-8"));
  CHECK(support::says(json_refusal("[\"\xED\xA0\x80\"]"), "text in UTF-8"));
  CHECK(support::says(json_refusal("[\"\\ud800\"]"), "\\u escapes"));
  CHECK(support::says(json_refusal("[\"\\x\"]"), "after the backslash"));
  CHECK(support::says(json_refusal("[\"a\nb\"]"), "no line break"));
  CHECK(support::says(json_refusal("[\"abc"), "a closing double quote"));
  CHECK(support::says(json_refusal(std::string("[1]\0[", 5)), "line 1, column 4: a NUL byte"));
}

TEST_CASE("a key that comes twice is refused with both lines") {
  const std::string line = json_refusal("{\n\"a\": 1,\n\"b\": {\"c\": 1,\n\"c\": 2}}");
  CHECK(support::says(line, "line 4"));
  CHECK(support::says(line, "\"c\" for the second time"));
  CHECK(support::says(line, "line 3"));
}

TEST_CASE("nesting has a limit, however deep") {
  CHECK(parsed(std::string(32, '[') + std::string(32, ']')).kind == files::JsonValue::Kind::array);
  CHECK(support::says(json_refusal(std::string(33, '[') + std::string(33, ']')), "at most 32"));
  CHECK(support::says(json_refusal(std::string(1000000, '[')), "at most 32"));
}

TEST_CASE("the number of values has a limit") {
  std::string text = "[0";
  for (std::size_t i = 0; i < files::k_json_value_cap; ++i) text += ",0";
  CHECK(support::says(json_refusal(text + "]"), "2 million values"));
}

TEST_CASE("any bytes are parsed or refused") {
  unsigned state = 1;
  for (int round = 0; round < 2000; ++round) {
    constexpr std::string_view k_alphabet("{}[]:,\"\\eE+-.0123 \ntrufalsnNI\xC3\xA9\xFF\0u", 35);
    std::string bytes;
    for (int i = 0; i < 40; ++i) {
      state = state * 1664525U + 1013904223U;
      bytes += k_alphabet[(state >> 16U) % k_alphabet.size()];
    }
    const base::Result<files::JsonValue> result = files::parse_json(bytes, "t.json");
    if (!result.ok()) CHECK(!base::to_line(result.problems().front()).empty());
  }
}
