// Tables of inclinometer readings and heights.
#include "files/readings.h"

#include <doctest/doctest.h>

#include "base/units.h"
#include "dish/defaults.h"
#include "support/says.h"

namespace {

template <class Read>
std::string readings_refusal(Read read, const std::string& text) {
  const auto result = read(text, "t.csv", dish::default_dish());
  REQUIRE(!result.ok());
  return base::to_text(result.problems());
}

}  // namespace

TEST_CASE("leans: several rows for a facet, both ways or one, decimal commas") {
  const dish::Dish dish = dish::default_dish();
  const auto read = files::read_leans(
      "facet;edge_deg;reading_deg;reversed_deg;sigma_deg\n"
      "A1;0;1,25;-1,35;0,05\nA1;90;-24,5;;\n",
      "t.csv", dish);
  if (!read) FAIL(base::to_text(read.problems()));
  const auto& leans = read.value().readings;
  REQUIRE(leans.size() == 2);
  CHECK(leans[0].facet == dish::FacetId{"A1"});
  CHECK(leans[0].reading_rad == base::rad_from_deg(1.25));
  CHECK(leans[0].reversed_rad == base::rad_from_deg(-1.35));
  CHECK(leans[0].sigma_rad == base::rad_from_deg(0.05));
  CHECK(leans[1].edge_rad == base::rad_from_deg(90.0));
  CHECK(!leans[1].reversed_rad);
  const std::string text = files::write_leans(leans);
  CHECK(text ==
        "facet,edge_deg,reading_deg,reversed_deg,sigma_deg\n"
        "A1,0,1.25,-1.35,0.05\nA1,90,-24.5,,\n");
  const auto again = files::read_leans(text, "t.csv", dish);
  REQUIRE(again.ok());
  CHECK(files::write_leans(again.value().readings) == text);
}

TEST_CASE("heights, with and without a header") {
  const dish::Dish dish = dish::default_dish();
  const auto read = files::read_heights("A1,0,80,31.25\nA1,-69.3,-40,30.5,0.02\n", "t.csv", dish);
  if (!read) FAIL(base::to_text(read.problems()));
  const auto& heights = read.value().readings;
  REQUIRE(heights.size() == 2);
  CHECK(heights[0].at_m == base::Vec2{0.0, 0.08});
  CHECK(heights[0].height_m == 0.03125);
  CHECK(!heights[0].sigma_m);
  CHECK(heights[1].sigma_m == 2e-5);
  CHECK(files::write_heights(heights) ==
        "facet,x_mm,y_mm,height_mm,sigma_mm\nA1,0,80,31.25,\nA1,-69.3,-40,30.5,0.02\n");
}

TEST_CASE("bad readings are refused with line, column and range") {
  CHECK(support::says(readings_refusal(files::read_leans, "facet,edge_deg,reading_deg\nA1,0,95\n"),
                      "line 2, column 3 (reading_deg): 95"));
  CHECK(support::says(readings_refusal(files::read_leans, "facet,edge_deg,reading_deg\nA1,0,95\n"),
                      "-90 to 90 deg"));
  CHECK(support::says(readings_refusal(files::read_leans, "facet,reading_deg\nA1,5\n"),
                      "column edge_deg: missing"));
  CHECK(support::says(readings_refusal(files::read_leans, "facet,edge_deg,reading_deg\nZZ9,0,5\n"),
                      "facet ZZ9"));
  CHECK(support::says(readings_refusal(files::read_heights, "facet,x_mm,y_mm,height_mm\n"),
                      "no measured height"));
  CHECK(support::says(readings_refusal(files::read_heights, "facet,x_mm,y_mm,height_mm\nA1,1,2,\n"),
                      "(height_mm): empty"));
}
