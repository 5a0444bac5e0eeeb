// Bad dish files: each problem names file, line, key, value and what was expected.
#include <doctest/doctest.h>

#include "everything.h"
#include "files/dish_read.h"
#include "files/dish_write.h"

namespace {

std::string with_members(const std::string& members) {
  return "{\n\"format\": \"facetwright dish\",\n\"version\": 1,\n" + members + "\n}\n";
}

/// A whole dish with one mount whose adjusters are given.
std::string with_adjusters(const std::string& adjusters) {
  return with_members("\"mounts\": {\"three M6\": {\"adjusters\": [" + adjusters +
                      "]}},\n\"facets\": [{\"id\": \"A1\", \"centre_mm\": [250, 0, 8]}]");
}

base::Problems problems_of(const std::string& text) {
  const auto result = files::read_dish(text, "my.dish.json");
  return result.ok() ? base::Problems{} : result.problems();
}

std::string all_lines(const std::string& text) { return base::to_text(problems_of(text)); }

bool says(const std::string& text, const std::string& part) {
  const std::string lines = all_lines(text);
  const bool found = lines.find(part) != std::string::npos;
  if (!found) MESSAGE(lines);
  return found;
}

}  // namespace

TEST_CASE("a problem reads as one line with file, line, path, value and range") {
  const std::string text = with_members(
      "\"mounts\": {\"three M6\": {\"adjusters\": [\n{\"x_mm\": 0, \"y_mm\": 80},\n"
      "{\"x_mm\": -70, \"y_mm\": -40,\n\"pitch_mm\": 0},\n{\"x_mm\": 70, \"y_mm\": -40}]}}");
  CHECK(all_lines(text) ==
        "my.dish.json, line 7, mounts/\"three M6\"/adjusters[1]/pitch_mm: 0; expected 0.2 to 10 "
        "mm\n");
}

TEST_CASE("facets are named by their id, or by their number while they have none") {
  CHECK(says(with_members("\"facets\": [{\"id\": \"A1\", \"centre_mm\": [1, 2]}]"),
             "line 4, facets/A1/centre_mm: a list of 2; expected a list of 3 numbers"));
  CHECK(says(with_members("\"facets\": [{\"centre_mm\": [1, 2, 3]}]"),
             "facets[0]/id: missing; expected a name that no other facet has"));
  CHECK(says(with_members("\"facets\": [{\"id\": 5, \"centre_mm\": [1, 2, \"x\"]}]"),
             "facets[0]/id: 5; expected text in double quotes"));
  CHECK(says(with_members("\"facets\": [{\"id\": \"a b\", \"centre_mm\": [1, 2, 1e9]}]"),
             "facets/\"a b\"/centre_mm[2]: 1e9; expected -50000 to 50000 mm"));
}

TEST_CASE("several problems are told in one go, but not without end") {
  std::string facets;
  for (int i = 0; i < 100; ++i) {
    facets += (i > 0 ? ",\n" : "\n") + std::string("{\"id\": \"F") + std::to_string(i) +
              "\", \"centre_mm\": [0, 0, true]}";
  }
  const base::Problems problems = problems_of(with_members("\"facets\": [" + facets + "]"));
  CHECK(problems.size() == 20);
  CHECK(problems[0].place == "my.dish.json, line 5, facets/F0/centre_mm[2]");
  CHECK(problems[19].place == "my.dish.json, line 24, facets/F19/centre_mm[2]");
}

TEST_CASE("a key in another unit never enters the dish") {
  CHECK(says(with_adjusters("{\"x_mm\": 0, \"y_mm\": 80, \"pitch_m\": 0.0007}"),
             "adjusters[0]/pitch_m: 0.0007; expected pitch_mm in its place"));
  CHECK(says(with_members("\"focal_length_mm\": 2000"), "expected focal_length_m in its place"));
  CHECK(says(with_members("\"sun\": {\"half_angle_deg\": 0.27}"),
             "sun/half_angle_deg: 0.27; expected half_angle_mrad in its place"));
  CHECK(says(with_members("\"springs\": {\"s\": {\"rate_N_m\": 2000}}"),
             "expected rate_N_mm in its place"));
}

TEST_CASE("values of the wrong kind say what was found and what should be") {
  CHECK(says(with_members("\"name\": 5"), "name: 5; expected text in double quotes"));
  CHECK(says(with_members("\"focal_length_m\": \"2\""),
             "focal_length_m: \"2\"; expected a number, without quotes, 0.05 to 200 m"));
  CHECK(says(with_members("\"focal_length_m\": null"), "null; expected a number"));
  CHECK(says(with_members("\"receiver\": [1]"), "receiver: a list of 1; expected an object"));
  CHECK(says(with_members("\"receiver\": {\"shades\": 1}"), "shades: 1; expected true or false"));
  CHECK(says(with_members("\"facets\": {}"), "facets: an object; expected a list in brackets"));
  CHECK(says(with_members("\"mounts\": []"), "mounts: a list of 0; expected an object"));
  CHECK(says(with_members("\"receiver\": {\"shape\": \"oval\"}"),
             "receiver/shape: \"oval\"; expected \"disc\" or \"rectangle\""));
  CHECK(says(with_members("\"facet_types\": {\"t\": {\"outline\": {\"shape\": \"star\"}}}"),
             "\"hexagon\", \"rectangle\", \"disc\", \"annular sector\" or \"polygon\""));
  CHECK(says(with_members("\"receiver\": {\"lit_normal\": [0, 0, 0]}"), "expected a direction"));
}

TEST_CASE("numbers outside their range, whichever way they are written") {
  CHECK(says(with_members("\"focal_length_m\": 1e300"), "1e300; expected 0.05 to 200 m"));
  CHECK(says(with_members("\"focal_length_m\": -2"), "-2; expected 0.05 to 200 m"));
  CHECK(says(with_members("\"focal_length_m\": 1e999"), "a number of ordinary size"));
  CHECK(says(with_members("\"focal_length_m\": NaN"), "a finite number"));
  CHECK(says(with_members("\"mounts\": {\"M\": {\"clicks_per_turn\": 2.5, \"adjusters\": []}}"),
             "2.5; expected 1 to 360, a whole number"));
  CHECK(says(with_members("\"facet_types\": {\"t\": {\"surface\": {\"form\": \"spherical\", "
                          "\"radius_m\": 0}}}"),
             "positive or negative"));
}

TEST_CASE("names that nothing has") {
  CHECK(says(with_members("\"facets\": [{\"id\": \"A1\", \"type\": \"hexagn\", "
                          "\"centre_mm\": [250, 0, 8]}]"),
             "facet A1"));
  CHECK(says(with_members("\"rounds\": [{\"spots\": [{\"facet\": \"Z9\", \"seen_mm\": [1, 2]}]}]"),
             "Z9"));
}

TEST_CASE("mounts that cannot hold a facet: each has its own message") {
  CHECK(says(with_adjusters(""), "it has no adjusters"));
  CHECK(says(with_adjusters("{\"x_mm\": 0, \"y_mm\": 0}"), "it has 1 adjuster"));
  CHECK(says(with_adjusters("{\"x_mm\": 0, \"y_mm\": 0}, {\"x_mm\": 50, \"y_mm\": 50}, "
                            "{\"x_mm\": 80, \"y_mm\": 80}"),
             "its three screws stand in a line"));
  CHECK(says(with_members("\"mounts\": {\"M\": {}}"), "mounts/M/adjusters: missing"));
}

TEST_CASE("two facets of one name") {
  CHECK(says(with_members("\"facets\": [{\"id\": \"A1\", \"centre_mm\": [250, 0, 8]}, "
                          "{\"id\": \"A1\", \"centre_mm\": [0, 250, 8]}]"),
             "A1"));
}

TEST_CASE("a key that stands twice names both lines") {
  CHECK(says(with_members("\"focal_length_m\": 2,\n\"focal_length_m\": 3"), "line 5"));
}

TEST_CASE("layouts that cannot be laid out") {
  CHECK(says(with_members("\"layout\": {\"kind\": \"spiral\"}"),
             "layout/kind: \"spiral\"; expected \"rings\", \"lattice\" or \"petals\""));
  CHECK(says(with_members("\"layout\": {\"rings\": 3}"), "layout/kind: missing"));
  CHECK(says(with_members("\"layout\": {\"kind\": \"rings\", \"rings\": 1, \"left_out\": [0, 1]}"),
             "line 4, layout"));
  CHECK(says(with_members("\"layout\": {\"kind\": \"lattice\", \"columns\": 5000, \"rows\": 5000}"),
             "line 4, layout"));
  CHECK(says(with_members("\"layout\": {\"kind\": \"rings\", \"frame\": \"sphere\"}"),
             "frame_radius_m: missing"));
}

TEST_CASE("files that are no dish files") {
  CHECK(all_lines("") == "my.dish.json: the file is empty; expected a dish file\n");
  CHECK(says("[]", "a dish file"));
  CHECK(says("{}", "format: missing; expected \"facetwright dish\""));
  CHECK(
      says("{\"format\": \"something\"}", "format: \"something\"; expected \"facetwright dish\""));
  CHECK(says("{\"format\": \"facetwright dish\"}", "version: missing"));
  for (const char* version : {"-1", "1.5", "\"1\"", "null", "1e99"}) {
    CHECK(says(std::string("{\"format\": \"facetwright dish\", \"version\": ") + version + "}",
               "expected a whole number, at present 1"));
  }
  CHECK(says("\x89PNG\r\n\x1A\n", "line 1, column 1"));
  CHECK(says("facet,right_mm,up_mm\n", "line 1, column 1: facet; expected a value"));
}

TEST_CASE("a file of a hundred megabytes is refused before it is looked at") {
  const std::string big(100000000, ' ');
  CHECK(all_lines(big) == "my.dish.json: 100.0 MB; expected a dish file of at most 64 MB\n");
}

TEST_CASE("a file full of brackets or of keys ends in a message") {
  CHECK(says(std::string(60000000, '['), "at most 32"));
  std::string keys = "{\"format\": \"facetwright dish\", \"version\": 1";
  for (int i = 0; i < 20000; ++i) keys += ", \"k" + std::to_string(i) + "\": 0";
  const auto result = files::read_dish(keys + "}", "my.dish.json");
  REQUIRE(result.ok());
  CHECK(result.value().notes.size() < 100);
  CHECK(result.value().dish.unknown.size() == 20000);
}

TEST_CASE("names with line breaks or beyond 100 bytes are refused") {
  CHECK(says(with_members("\"name\": \"a\\nb\""), "a name of at most 100 bytes"));
  CHECK(says(with_members("\"mounts\": {\"" + std::string(200, 'm') + "\": {}}"),
             "a name of at most 100 bytes"));
  CHECK(says(with_members("\"facet_types\": {\"\": {}}"), "a name"));
}

TEST_CASE("every prefix of a valid file is refused with a line, or read") {
  const std::string text = files::write_dish(everything::dish());
  for (std::size_t length = 0; length + 2 < text.size(); ++length) {
    const auto result = files::read_dish(std::string_view(text).substr(0, length), "t");
    REQUIRE(!result.ok());
    REQUIRE(!base::to_line(result.problems().front()).empty());
  }
  const std::string small = everything::minimal_text();
  CHECK(files::read_dish(std::string_view(small).substr(0, small.size() - 1), "t").ok());
}

TEST_CASE("a file with any one byte changed is refused or reads to a dish that is stable") {
  const std::string text = files::write_dish(everything::dish());
  const std::string replacements("\"{}[]:,0-9e.x\\ \n\xFF", 17);
  for (std::size_t i = 0; i < text.size(); i += 3) {
    std::string changed = text;
    changed[i] = replacements[(i / 3) % replacements.size()];
    const auto first = files::read_dish(changed, "t");
    if (!first.ok()) continue;
    const std::string once = files::write_dish(first.value().dish);
    const auto second = files::read_dish(once, "t");
    REQUIRE_MESSAGE(second.ok(), base::to_text(second.ok() ? base::Problems{} : second.problems()));
    REQUIRE(files::write_dish(second.value().dish) == once);
  }
}

TEST_CASE("suns, coatings and form errors out of range are named") {
  const auto with_sun = [](const std::string& sun) {
    return with_members("\"sun\": {" + sun + "}");
  };
  CHECK(says(with_sun("\"shape\": \"circumsolar\", \"circumsolar_ratio\": 0.9"),
             "line 4, sun/circumsolar_ratio: 0.9; expected 0 to 0.8"));
  CHECK(says(with_sun("\"shape\": \"limb darkened\", \"limb_darkening\": -0.1"),
             "sun/limb_darkening: -0.1; expected 0 to 1"));
  CHECK(says(with_sun("\"shape\": \"gaussian\", \"sigma_mrad\": 0"),
             "sun/sigma_mrad: 0; expected 0.1 to 50 mrad"));
  CHECK(says(with_sun("\"shape\": \"square\""),
             "sun/shape: \"square\"; expected \"pillbox\", \"limb darkened\", \"gaussian\" or "
             "\"circumsolar\""));
  const auto with_type = [](const std::string& members) {
    return with_members("\"facet_types\": {\"tile\": {" + members + "}}");
  };
  CHECK(
      says(with_type("\"cleanliness\": 0"), "facet_types/tile/cleanliness: 0; expected 0.01 to 1"));
  CHECK(says(
      with_type("\"coating\": {\"metal\": \"tin\"}"),
      "facet_types/tile/coating/metal: \"tin\"; expected \"silver\", \"aluminium\", \"gold\" or "
      "\"copper\""));
  CHECK(says(with_type("\"coating\": {}"), "facet_types/tile/coating/metal: missing"));
  CHECK(
      says(with_type("\"reflectance\": 0.9, \"coating\": {\"metal\": \"silver\"}"),
           "facet_types/tile/coating: a coating and a reflectance; expected only one of the two"));
  CHECK(says(with_type("\"coating\": {\"metal\": \"silver\", \"cover\": \"glass\", "
                       "\"thickness_mm\": 400}"),
             "facet_types/tile/coating/thickness_mm: 400; expected 0.001 to 50 mm"));
  CHECK(says(with_type("\"form_error\": {\"defocus_mm\": 1e6}"),
             "facet_types/tile/form_error/defocus_mm: 1e6; expected -50 to 50 mm"));
  CHECK(says(with_type("\"form_error\": {\"edge_roll_off\": {\"slope_mrad\": 5000}}"),
             "facet_types/tile/form_error/edge_roll_off/slope_mrad: 5000; expected -300 to 300"));
}

TEST_CASE("an edge wider than its facet and maps that are none are named") {
  const auto with_error = [](const std::string& error) {
    return with_members("\"facet_types\": {\"tile\": {\"form_error\": {" + error + "}}}");
  };
  CHECK(says(with_error("\"edge_roll_off\": {\"width_mm\": 200}"),
             "facet type tile, edge roll-off: it is 200 mm wide; expected at most half the facet's "
             "narrow width, 115 mm"));
  const auto with_map = [&](const std::string& rows) {
    return with_error(
        "\"sag_map\": {\"first_mm\": [-150, -150], \"step_mm\": [300, 300], "
        "\"sag_mm\": " +
        rows + "}");
  };
  const std::string place = "facet_types/tile/form_error/sag_map/sag_mm";
  CHECK(says(with_map("[]"), place + ": 0 rows; expected 2 to 500 rows"));
  CHECK(says(with_map("[[1]]"), place + ": 1 rows; expected 2 to 500 rows"));
  CHECK(
      says(with_map("[[1], [1]]"), place + "[0]: 1 heights; expected a list of 2 to 500 heights"));
  CHECK(says(with_map("[[0, 0], [0]]"),
             place + "[1]: 1 heights; expected 2 heights, as in the first"));
  CHECK(says(with_map("[[0, 0], [0, \"NaN\"]]"), place + "[1][1]: \"NaN\"; expected a number"));
  CHECK(says(with_map("[[0, 0], [0, 900]]"), place + "[1][1]: 900; expected -200 to 200 mm"));
  CHECK(says(with_map("5"), place + ": 5; expected a list in brackets [ ]"));
  CHECK(says(with_error("\"sag_map\": {}"), "form_error/sag_map/sag_mm: missing"));
  CHECK(says(with_error("\"sag_map\": {\"first_mm\": [0, 0], \"step_mm\": [10, 10], "
                        "\"sag_mm\": [[0, 0], [0, 0]]}"),
             "facet type tile, sag map: it covers u 0 to 10 mm, v 0 to 10 mm; expected the whole "
             "facet, u -115 to 115 mm"));
}
