// Spots tables: every spelling people use, and messages with line and column for the rest.
#include <doctest/doctest.h>

#include "dish/defaults.h"
#include "files/csv.h"
#include "files/spots.h"
#include "support/says.h"

namespace {

files::ReadSpots spots_in(const std::string& text) {
  base::Result<files::ReadSpots> result = files::read_spots(text, "s.csv");
  REQUIRE_MESSAGE(result.ok(), base::to_text(result.ok() ? base::Problems{} : result.problems()));
  return std::move(result).value();
}

std::string spots_refusal(const std::string& text) {
  const auto result = files::read_spots(text, "s.csv");
  REQUIRE_MESSAGE(!result.ok(), text);
  return base::to_text(result.problems());
}

}  // namespace

TEST_CASE("the plain table") {
  const files::ReadSpots spots =
      spots_in("facet,right_mm,up_mm,sigma_mm\nA1,12.5,-3,2\nA2,0.7,1e1,\n");
  REQUIRE(spots.rows.size() == 2);
  CHECK(spots.rows[0].facet == "A1");
  CHECK(spots.rows[0].right_m == 0.0125);
  CHECK(spots.rows[0].up_m == -0.003);
  CHECK(spots.rows[0].sigma_m == 0.002);
  CHECK(spots.rows[0].line == 2);
  CHECK(spots.rows[1].right_m == 0.0007);
  CHECK(spots.rows[1].up_m == 0.01);
  CHECK(!spots.rows[1].sigma_m);
  CHECK(spots.notes.empty());
}

TEST_CASE("columns in any order, in any case, extra ones noted") {
  const files::ReadSpots spots =
      spots_in("Up_mm,who,FACET,right_mm\n5,Nobody in particular,A1,-7\n");
  CHECK(spots.rows[0].facet == "A1");
  CHECK(spots.rows[0].up_m == 0.005);
  CHECK(spots.rows[0].right_m == -0.007);
  REQUIRE(spots.notes.size() == 1);
  CHECK(spots.notes[0] == "s.csv, line 1, column 2: \"who\" is not used");
}

TEST_CASE("semicolons with decimal commas, tabs, quotes, CRLF, CR, mark, comments, blank lines") {
  const files::ReadSpots semicolons = spots_in(
      "\xEF\xBB\xBF"
      "facet;right_mm;up_mm\r\n# a comment\r\n\r\nA1;1,5;-2,25\r\n");
  CHECK(semicolons.rows[0].right_m == 0.0015);
  CHECK(semicolons.rows[0].up_m == -0.00225);
  CHECK(semicolons.rows[0].line == 4);
  const files::ReadSpots tabs = spots_in("facet\tright_mm\tup_mm\rA 1\t 1,5 \t2\r");
  CHECK(tabs.rows[0].facet == "A 1");
  CHECK(tabs.rows[0].right_m == 0.0015);
  CHECK(tabs.rows[0].line == 2);
  const files::ReadSpots quotes = spots_in("facet,right_mm,up_mm\n\"A \"\"1\"\", left\",\"3\",4");
  CHECK(quotes.rows[0].facet == "A \"1\", left");
  CHECK(quotes.rows[0].right_m == 0.003);
  const files::ReadSpots minus = spots_in(
      "facet,right_mm,up_mm\nA1,\xE2\x88\x92"
      "3,+4\n");
  CHECK(minus.rows[0].right_m == -0.003);
  CHECK(minus.rows[0].up_m == 0.004);
}

TEST_CASE("pasted rows need no header") {
  const files::ReadSpots three = spots_in("A1\t12\t-3\nA2\t1,5\t2\n");
  CHECK(three.rows.size() == 2);
  CHECK(three.rows[0].line == 1);
  CHECK(three.rows[1].right_m == 0.0015);
  const files::ReadSpots four = spots_in("A1;12;-3;2,5");
  CHECK(four.rows[0].sigma_m == 0.0025);
  CHECK(spots_in("7,12,-3").rows[0].facet == "7");
}

TEST_CASE("a facet without a spot is skipped and noted") {
  const files::ReadSpots spots = spots_in("facet,right_mm,up_mm\nA1,,\nA2,1,2\nA3\n");
  CHECK(spots.rows.size() == 1);
  CHECK(spots.notes.size() == 2);
  CHECK(spots.notes[0] == "s.csv, line 2: facet A1 has no spot");
}

TEST_CASE("what is written reads back, always as the same bytes") {
  const std::vector<files::SpotRow> rows{{"A1", 0.0125, -0.1 / 3.0, 0.002, 0},
                                         {"#2, \"x\"", -0.0007, 0.0, std::nullopt, 0},
                                         {"facet", 0.001, 0.002, 0.0015, 0}};
  const std::string text = files::write_spots(rows);
  const files::ReadSpots spots = spots_in(text);
  REQUIRE(spots.rows.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK(spots.rows[i].facet == rows[i].facet);
    CHECK(spots.rows[i].right_m == rows[i].right_m);
    CHECK(spots.rows[i].up_m == rows[i].up_m);
    CHECK(spots.rows[i].sigma_m == rows[i].sigma_m);
  }
  CHECK(files::write_spots(spots.rows) == text);
  CHECK(files::write_spots({{"A1", 0.25, 0.0, std::nullopt, 0}}) ==
        "facet,right_mm,up_mm\nA1,250,0\n");
}

TEST_CASE("bad fields name line, column and range") {
  CHECK(spots_refusal("facet,right_mm,up_mm\nA1,x,2\n") ==
        "s.csv, line 2, column 2 (right_mm): x; expected a number, -50000 to 50000 mm\n");
  CHECK(spots_refusal("up_mm,facet,right_mm\n1e9,A1,2\n") ==
        "s.csv, line 2, column 1 (up_mm): 1e9; expected -50000 to 50000 mm\n");
  CHECK(support::says(spots_refusal("facet,right_mm,up_mm\nA1,1,\n"), "column 3 (up_mm): empty"));
  CHECK(support::says(spots_refusal("facet,right_mm,up_mm\n,1,2\n"), "column 1 (facet): empty"));
  CHECK(support::says(spots_refusal("facet,right_mm,up_mm,sigma_mm\nA1,1,2,0\n"),
                      "column 4 (sigma_mm): 0"));
  CHECK(support::says(spots_refusal("facet,right_mm,up_mm\nA1,NaN,2\n"), "NaN; expected a number"));
  CHECK(support::says(spots_refusal("facet,right_mm,up_mm\nA1,1e999,2\n"),
                      "1e999; expected a number"));
  CHECK(support::says(spots_refusal("facet;right_mm;up_mm\nA1;1.234,5;2\n"),
                      "1.234,5; expected a number"));
}

TEST_CASE("decimal commas between commas are explained") {
  CHECK(
      support::says(spots_refusal("facet,right_mm,up_mm\nA1,1,5,2,5\n"),
                    "5 fields; expected 3 (where the comma is the decimal sign, separate fields by "
                    "semicolons)"));
}

TEST_CASE("a facet in two rows names both lines") {
  CHECK(spots_refusal("facet,right_mm,up_mm\nA1,1,2\nA2,1,2\nA1,3,4\n") ==
        "s.csv, line 4: facet A1 for the second time; expected each facet once (the first is in "
        "line 2)\n");
}

TEST_CASE("headers that do not fit") {
  CHECK(support::says(spots_refusal("facet,right_mm\nA1,1\n"), "column up_mm: missing"));
  CHECK(support::says(spots_refusal("facet,right_m,up_m\nA1,1,2\n"), "column right_mm: missing"));
  CHECK(support::says(spots_refusal("id,x,y\nA1,1,2\n"), "column facet: missing"));
  CHECK(support::says(spots_refusal("facet,right_mm,up_mm,facet\nA1,1,2,A1\n"),
                      "facet for the second time"));
  CHECK(support::says(spots_refusal(""), "no rows"));
  CHECK(support::says(spots_refusal("# only words\n\n"), "no rows"));
  CHECK(spots_in("facet,right_mm,up_mm\n").rows.empty());
}

TEST_CASE("what is no table of text is refused in words") {
  CHECK(support::says(spots_refusal(std::string("\x89PNG\0\0\0", 7)), "binary data"));
  CHECK(support::says(spots_refusal(std::string("\xFF\xFE"
                                                "f\0a\0",
                                                6)),
                      "UTF-16"));
  CHECK(support::says(spots_refusal("facet,right_mm,up_mm\nA\xFF,1,2\n"),
                      "line 2: bytes that are no"));
  CHECK(support::says(spots_refusal("facet,right_mm,up_mm\n\"A1,1,2\n"), "line 2: a double quote"));
  CHECK(support::says(spots_refusal(std::string(100000000, 'x')),
                      "100.0 MB; expected a table of at most 16"));
  CHECK(support::says(spots_refusal(std::string(16000000, ',')), "fields"));
  CHECK(support::says(spots_refusal("{\"format\": \"facetwright dish\"}"), "s.csv"));
  std::string many = "facet,right_mm,up_mm\n";
  for (int i = 0; i < 200001; ++i) many += "F" + std::to_string(i) + ",1,2\n";
  CHECK(support::says(spots_refusal(many), "at most 200000"));
}

TEST_CASE("problems are told in one go, at most twenty") {
  std::string text = "facet,right_mm,up_mm\n";
  for (int i = 0; i < 50; ++i) text += "F" + std::to_string(i) + ",x,y\n";
  CHECK(files::read_spots(text, "s.csv").problems().size() == 20);
}

TEST_CASE("facets the dish does not have, with the closest it has") {
  const dish::Dish dish = dish::default_dish();
  const files::ReadSpots spots = spots_in("A1,1,2\nA11,1,2\nQQQQQQ,1,2\n");
  const base::Problems problems = files::match_spots(spots.rows, dish, "s.csv");
  REQUIRE(problems.size() == 2);
  CHECK(base::to_line(problems[0]) ==
        "s.csv, line 2: facet A11; expected a facet of this dish (is it A1?)");
  CHECK(base::to_line(problems[1]) == "s.csv, line 3: facet QQQQQQ; expected a facet of this dish");
}

TEST_CASE("rows become spots of a round") {
  const std::vector<dish::Spot> spots = files::to_spots(spots_in("A1,1,2\nA2,3,4,5\n").rows);
  REQUIRE(spots.size() == 2);
  CHECK(spots[1].facet.text == "A2");
  CHECK(spots[1].seen_m == base::Vec2{0.003, 0.004});
  CHECK(spots[1].sigma_m == 0.005);
}

TEST_CASE("every prefix of a table reads or is refused with a message") {
  const std::string text =
      "\xEF\xBB\xBF"
      "facet;right_mm;up_mm;sigma_mm\r\n# c\r\n\"A \"\"1\";1,5;-2,25;2\r\nB2;3;4;\r\n";
  for (std::size_t length = 0; length <= text.size(); ++length) {
    const auto result = files::read_spots(std::string_view(text).substr(0, length), "s.csv");
    if (!result.ok()) CHECK(!base::to_line(result.problems().front()).empty());
  }
}
