// Sag maps as tables: what reads, what is refused and in which words.
#include "files/sag_map.h"

#include "dish/part_checks.h"
#include "support/paths.h"

#include <doctest/doctest.h>

namespace {

dish::SagMap map_in(const std::string& text) {
  base::Result<dish::SagMap> result = files::read_sag_map(text, "m.csv");
  REQUIRE_MESSAGE(result.ok(), base::to_text(result.ok() ? base::Problems{} : result.problems()));
  return std::move(result).value();
}

bool refuses(const std::string& text, const std::string& part) {
  const auto result = files::read_sag_map(text, "m.csv");
  REQUIRE_MESSAGE(!result.ok(), text);
  const std::string lines = base::to_text(result.problems());
  const bool found = lines.find(part) != std::string::npos;
  if (!found) MESSAGE(lines);
  return found;
}

}  // namespace

TEST_CASE("the plain grid") {
  const dish::SagMap map = map_in("v_mm/u_mm,-50,0,50\n-20,0.01,0,-0.02\n20,1e-3,.5,0\n");
  CHECK(map.columns == 3);
  CHECK(map.rows == 2);
  CHECK(map.first_m == base::Vec2(-0.05, -0.02));
  CHECK(map.step_m == base::Vec2(0.05, 0.04));
  CHECK(map.sag_m == std::vector<double>{1e-5, 0.0, -2e-5, 1e-6, 5e-4, 0.0});
  CHECK(dish::problems_of(map, "map").empty());
}

TEST_CASE("semicolons, decimal commas, comments, and rows from the top down") {
  const std::string plain = "v_mm/u_mm,-1.5,1.5\n-2,0.1,0.2\n2,0.3,0.4\n";
  const std::string other = "# bench 3\r\nv/u;-1,5;1,5\r\n2;0,3;0,4\r\n\r\n-2;0,1;0,2\r\n";
  CHECK(files::write_sag_map(map_in(other)) == files::write_sag_map(map_in(plain)));
  CHECK(files::write_sag_map(map_in(plain)) == plain);
}

TEST_CASE("places that are even but for rounding keep whole nanometres") {
  const dish::SagMap map = map_in("x,0,33.33,66.67,100\n0,0,0,0,0\n10,0,0,0,0\n");
  CHECK(map.step_m.x == doctest::Approx(0.033333333).epsilon(1e-12));
  const std::string once = files::write_sag_map(map);
  CHECK(files::write_sag_map(map_in(once)) == once);
}

TEST_CASE("the measured tile among the fixtures") {
  const std::string text =
      support::read_whole_file(support::source_path("tests/fixtures/slumped-tile-sag.csv"));
  const dish::SagMap map = map_in(text);
  CHECK(map.columns == 9);
  CHECK(map.rows == 9);
  CHECK(map_in(files::write_sag_map(map)).sag_m == map.sag_m);
}

TEST_CASE("what is no grid is refused with its place") {
  CHECK(refuses("", "m.csv: no rows"));
  CHECK(refuses("v/u,0\n0,1\n", "1 columns and 1 rows of heights; expected 2 to 500"));
  CHECK(refuses("5\n", "0 columns and 0 rows"));
  CHECK(refuses("0,0,10\n0,1,2\n10,3,4\n", "line 1, column 1: 0; expected a word"));
  CHECK(refuses("v/u,0,10\n0,1,2\n10,3\n", "line 3, column 3: empty; expected a number"));
  CHECK(refuses("v/u,0,10\n0,1,2,3\n10,3,4\n", "line 2: 4 fields; expected 3"));
  CHECK(refuses("v/u,0,10\n0,1,NaN\n10,3,4\n", "line 2, column 3: NaN; expected a number"));
  CHECK(refuses("v/u,0,10\n0,1,2\n10,3,1e300\n", "line 3, column 3: 1e300; expected -200 to 200"));
  CHECK(refuses("v/u,0,10,25\n0,1,2,3\n10,3,4,5\n", "line 1, u: 10 mm; expected even steps: 12.5"));
  CHECK(refuses("v/u,10,0\n0,1,2\n10,3,4\n", "u: a step of -10 mm; expected places that rise"));
  CHECK(refuses("v/u,0,10\n0,1,2\n0,3,4\n", "v: a step of 0 mm"));
  CHECK(refuses(std::string("v/u,0\0", 6), "binary data"));
  std::string wide = "v/u";
  for (int k = 0; k < 501; ++k) wide += "," + std::to_string(k);
  CHECK(refuses(wide + "\n0,1\n1,1\n", "501 columns and 2 rows"));
}

TEST_CASE("many problems are told in one go, but not without end") {
  std::string text = "v/u";
  for (int k = 0; k < 50; ++k) text += "," + std::to_string(k);
  for (int row = 0; row < 3; ++row) {
    text += "\n" + std::to_string(row);
    for (int k = 0; k < 50; ++k) text += ",x";
  }
  const auto result = files::read_sag_map(text, "m.csv");
  REQUIRE(!result.ok());
  CHECK(result.problems().size() == 20);
}
