// The demo dishes: the files are what the code makes, have no errors and no doubts, and their
// optics are sensible.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>

#include "dish/checks.h"
#include "dish/facts.h"
#include "files/dish_read.h"
#include "files/dish_write.h"
#include "files/spots.h"
#include "support/demo_dishes.h"
#include "support/paths.h"

namespace {

struct Demo {
  const char* file;
  dish::Dish dish;
};

std::vector<Demo> demos() {
  return {{"larch-refuge.dish.json", support::larch_refuge()},
          {"kiln-yard.dish.json", support::kiln_yard()},
          {"orchard-dryer.dish.json", support::orchard_dryer()}};
}

}  // namespace

TEST_CASE("the demo files are what the code makes") {
  for (const Demo& demo : demos()) {
    const std::string text = files::write_dish(demo.dish);
    // FW_DEMOS=assets/demos (full path) writes them anew.
    if (const char* folder = std::getenv("FW_DEMOS")) {
      std::ofstream(std::string(folder) + "/" + demo.file, std::ios::binary) << text;
    }
    const std::string path = support::source_path(std::string("assets/demos/") + demo.file);
    CHECK_MESSAGE(support::read_whole_file(path) == text, demo.file);
  }
}

TEST_CASE("the demo files read without a note and have neither errors nor doubts") {
  for (const Demo& demo : demos()) {
    const std::string path = support::source_path(std::string("assets/demos/") + demo.file);
    const auto read = files::read_dish(support::read_whole_file(path), demo.file);
    REQUIRE_MESSAGE(read.ok(), base::to_text(read.ok() ? base::Problems{} : read.problems()));
    CHECK(read.value().notes.empty());
    for (const dish::Finding& finding : dish::check(read.value().dish)) {
      FAIL_CHECK(demo.file << ": " << dish::to_line(finding));
    }
  }
}

TEST_CASE("the demos are those of the scenarios") {
  const dish::Dish larch = support::larch_refuge();
  CHECK(larch.facets.size() == 36);
  CHECK(std::holds_alternative<dish::HyperboloidSecondary>(larch.secondary->form));
  CHECK(larch.rounds.size() == 1);
  CHECK(larch.rounds[0].spots.size() == 36);
  const dish::Dish kiln = support::kiln_yard();
  CHECK(kiln.facets.size() == 24);
  CHECK(!kiln.secondary);
  std::size_t flat = 0;
  for (const dish::Facet& facet : kiln.facets) flat += facet.type.text == "flat 200" ? 1 : 0;
  CHECK(flat == 8);
  const dish::Dish orchard = support::orchard_dryer();
  CHECK(orchard.facets.size() == 24);
  CHECK(orchard.facet_types.size() == 2);
}

TEST_CASE("an aligned facet of Larch Refuge sends the sun's centre to the middle of the plate") {
  const dish::Dish dish = support::larch_refuge();
  for (dish::Facet facet : dish.facets) {
    facet.displacement_m = {0.0, 0.0, 0.0};
    const base::Vec2 spot = support::larch_refuge_spot(dish, facet, {0.0, 0.0});
    // The hyperboloid has no aberration between its foci; 1e-9 m is rounding of the places to 1 um
    // (which shifts the facet but not its aim) and of the arithmetic.
    CHECK(glm::length(spot) < 1e-9);
  }
}

TEST_CASE("a pointing error moves the spots of Larch Refuge by its effective focal length") {
  // Two-mirror telescope, textbook: effective focal length = f m, with the magnification
  // m = (vertex to far focus) / (vertex to near focus) = 1.56 / 0.38. Near the axis it is exact; at
  // the inner ring (r / f = 1 / 8) the height of the facet changes it by about (r / 2 f)^2 = 0.4 %.
  const dish::Dish dish = support::larch_refuge();
  const double effective_m = 2.0 * 1.56 / 0.38;
  base::Vec2 sum{0.0, 0.0};
  for (std::size_t i = 0; i < 6; ++i) {
    dish::Facet facet = dish.facets[i];
    facet.displacement_m = {0.0, 0.0, 0.0};
    sum += support::larch_refuge_spot(dish, facet, {0.001, 0.0});
  }
  CHECK(std::abs(sum.x / 6.0) == doctest::Approx(effective_m * 0.001).epsilon(0.02));
  CHECK(std::abs(sum.y / 6.0) < 1e-6);
}

TEST_CASE("the spots seen on Larch Refuge are what its screws do, to the reading error") {
  const dish::Dish dish = support::larch_refuge();
  double squares = 0.0;
  double largest = 0.0;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    const base::Vec2 exact = support::larch_refuge_spot(dish, dish.facets[i], {0.0015, -0.0008});
    const base::Vec2 error = dish.rounds[0].spots[i].seen_m - exact;
    squares += glm::dot(error, error) / 2.0;
    largest = std::max(largest, glm::length(exact));
  }
  const double rms = std::sqrt(squares / 36.0);
  CHECK(rms > 0.001);
  CHECK(rms < 0.003);
  // Something to align, but not off the board.
  CHECK(largest > 0.05);
  CHECK(largest < 0.25);
}

TEST_CASE("the demo's spots can be saved as a table and read again") {
  const dish::Dish dish = support::larch_refuge();
  std::vector<files::SpotRow> rows;
  for (const dish::Spot& spot : dish.rounds[0].spots) {
    rows.push_back({spot.facet.text, spot.seen_m.x, spot.seen_m.y, spot.sigma_m, 0});
  }
  const std::string path = support::source_path("assets/demos/larch-refuge-spots.csv");
  const std::string text = files::write_spots(rows);
  if (const char* folder = std::getenv("FW_DEMOS")) {
    std::ofstream(std::string(folder) + "/larch-refuge-spots.csv", std::ios::binary) << text;
  }
  CHECK(support::read_whole_file(path) == text);
  const auto read = files::read_spots(text, "larch-refuge-spots.csv");
  REQUIRE(read.ok());
  CHECK(files::match_spots(read.value().rows, dish, "x").empty());
}
