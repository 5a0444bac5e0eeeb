// Spots to facets: what must hold for exact spots, and what is doubted when they are not.
#include "naming/identify.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "naming/schemes.h"
#include "support/reference_dish.h"

namespace {

using base::Vec2;
using naming::BoardLook;
using naming::BoardSpot;
using naming::Doubt;
using naming::Finding;

struct Scene {
  dish::Dish dish = support::reference_dish();
  align::Sighting sighting;
  naming::IdentifyTarget target;

  explicit Scene(double sigma_rad = 0.003, double before_focus_m = 0.4) {
    sighting = naming::defocus_sighting(dish, before_focus_m);
    std::vector<naming::FacetPrior> priors;
    for (std::size_t i = 0; i < dish.facets.size(); ++i) priors.push_back({i, sigma_rad, {}});
    target = naming::target_of(dish, sighting, priors).value();
  }

  /// Every facet's spot where it is expected.
  [[nodiscard]] BoardLook perfect() const {
    BoardLook look;
    for (std::size_t c = 0; c < target.cells.size(); ++c) {
      look.cells.push_back(c);
      look.spots.push_back({.board_m = target.cells[c].mark_m, .flux = 5.0});
    }
    return look;
  }
};

const Finding& finding_of(const naming::Identification& found, std::size_t cell) {
  const auto at = std::find_if(found.findings.begin(), found.findings.end(),
                               [&](const Finding& finding) { return finding.cell == cell; });
  REQUIRE(at != found.findings.end());
  return *at;
}

naming::Identification identified(const Scene& scene, const BoardLook& look,
                                  const naming::IdentifySettings& settings = {}) {
  const auto found = naming::identify(scene.target, {look}, settings);
  REQUIRE(found.ok());
  return found.value();
}

}  // namespace

TEST_CASE("cells: sensitivity of the expected mark") {
  // Source: closed forms for a paraboloid aimed at its focus, board there: S_r = 2f / (cos^2 i
  // cos 2i), S_t = 2f / cos i, tan i = r / 2f. Raw numbers at f = 2 m, r = 250, 500, 750 mm:
  // 4.047120, 4.007805; 4.191468, 4.031129; 4.442371, 4.069705 m per rad. Tolerance: their digits,
  // 1e-6. Difference today: below 6e-7.
  const double expected[3][3] = {
      {0.25, 4.047120, 4.007805}, {0.5, 4.191468, 4.031129}, {0.75, 4.442371, 4.069705}};
  for (const auto& row : expected) {
    const double r = row[0];
    const dish::Dish dish = support::one_facet_dish({r, 0.0, r * r / 8.0});
    const auto cells =
        naming::cells_of(dish, naming::defocus_sighting(dish, 0.0), {{0, 0.003, {}}});
    REQUIRE(cells.ok());
    const auto& jacobian = cells.value()[0].mark_per_tilt;
    CHECK(std::abs(naming::most_shift_per_tilt(cells.value()[0]) - row[1]) < 1e-6);
    CHECK(std::abs(std::abs(glm::determinant(jacobian)) - row[1] * row[2]) < 1e-5);
    CHECK(glm::length(cells.value()[0].mark_m) < 1e-12);
  }
}

TEST_CASE("identify: spots in their places are all known, in any order") {
  const Scene scene;
  BoardLook look = scene.perfect();
  std::reverse(look.spots.begin(), look.spots.end());
  const auto found = identified(scene, look);
  REQUIRE(found.findings.size() == 36);
  for (const Finding& finding : found.findings) {
    CHECK(finding.doubt == Doubt::none);
    CHECK(finding.spot == 35 - finding.cell);
    CHECK(finding.odds > 100.0);
    CHECK(finding.sentence.empty());
  }
  CHECK(found.false_spots.empty());
  CHECK_FALSE(found.common.is_shifted_cell);
  const auto rows = naming::spots_of(scene.dish, scene.target, {look}, found, false);
  REQUIRE(rows.size() == 36);
  CHECK(rows[7].facet.text == "F8");
  CHECK(rows[7].seen_m == scene.target.cells[7].mark_m);
}

TEST_CASE("identify: a common shift and a wrong distance are taken off first") {
  const Scene scene;
  BoardLook look = scene.perfect();
  for (std::size_t c = 0; c < look.spots.size(); ++c) {
    const Vec2 place = scene.target.cells[c].place_m;
    look.spots[c].board_m += Vec2(0.031, -0.017) + 0.01 * Vec2(-place.x, place.y);
  }
  const auto found = identified(scene, look);
  for (const Finding& finding : found.findings) {
    CHECK(finding.spot == finding.cell);
    CHECK(finding.doubt == Doubt::none);
  }
  // (right, up) of a board that faces the dish from above is (-x, y) as seen from the sun.
  CHECK(found.common.shift_m.x == doctest::Approx(-0.031).epsilon(1e-6));
  CHECK(found.common.shift_m.y == doctest::Approx(-0.017).epsilon(1e-6));
  CHECK(found.common.radial == doctest::Approx(0.01).epsilon(1e-6));
  CHECK_FALSE(found.common.is_shifted_cell);
  naming::IdentifySettings plain;
  plain.fits_common_shift = false;
  const auto without = identified(scene, look, plain);
  CHECK(std::any_of(without.findings.begin(), without.findings.end(),
                    [](const Finding& finding) { return finding.spot != finding.cell; }));
}

TEST_CASE("identify: a pattern one place off is doubted") {
  const Scene scene;
  BoardLook look = scene.perfect();
  // Seven facets in a row are the same pattern when moved by one place.
  BoardLook row;
  for (const std::size_t c : look.cells) {
    if (std::abs(scene.target.cells[c].place_m.y) < 0.3 && scene.target.cells[c].place_m.y > 0.1) {
      row.cells.push_back(c);
    }
  }
  REQUIRE(row.cells.size() >= 5);
  for (std::size_t k = 1; k < row.cells.size(); ++k) {
    row.spots.push_back({.board_m = scene.target.cells[row.cells[k]].mark_m});
  }
  naming::IdentifySettings settings;
  settings.shift_range_m = 0.06;
  const auto found = identified(scene, row, settings);
  CHECK(found.common.is_shifted_cell);
  CHECK(found.common.sentence.find("one place") != std::string::npos);
}

TEST_CASE("identify: missing, strange, surprising, ambiguous and merged spots are named") {
  const Scene scene(0.0016);
  const BoardLook whole = scene.perfect();
  SUBCASE("missing and strange") {
    BoardLook look = whole;
    look.spots.erase(look.spots.begin() + 4);
    look.spots.push_back({.board_m = {0.3, 0.3}});
    const auto found = identified(scene, look);
    CHECK(finding_of(found, 4).doubt == Doubt::missing);
    CHECK(finding_of(found, 4).sentence.find("Uncover F5 alone") != std::string::npos);
    REQUIRE(found.false_spots.size() == 1);
    CHECK(found.false_spots[0].spot == 35);
  }
  SUBCASE("surprising") {
    BoardLook look = whole;
    look.spots[20].board_m += Vec2(0.0, 0.022);
    const auto found = identified(scene, look);
    CHECK(finding_of(found, 20).doubt == Doubt::surprising);
    CHECK(finding_of(found, 20).distance2 > 14.0);
    CHECK(finding_of(found, 21).doubt == Doubt::none);
  }
  SUBCASE("ambiguous") {
    // Two neighbours' spots meet halfway, a little apart across the line between them.
    BoardLook look = whole;
    const Vec2 a = look.spots[10].board_m;
    const Vec2 b = look.spots[11].board_m;
    const Vec2 across = 0.3 * Vec2(-(b - a).y, (b - a).x);
    look.spots[10].board_m = 0.5 * (a + b) + across;
    look.spots[11].board_m = 0.5 * (a + b) - across;
    Scene wide(0.008);
    const auto found = identified(wide, look);
    CHECK(finding_of(found, 10).doubt == Doubt::ambiguous);
    CHECK(finding_of(found, 11).doubt == Doubt::ambiguous);
    CHECK(finding_of(found, 10).odds < 100.0);
    CHECK(finding_of(found, 10).sentence.find("may be F11's or F") != std::string::npos);
  }
  SUBCASE("merged") {
    BoardLook look = whole;
    look.spots[10].board_m = 0.5 * (look.spots[10].board_m + look.spots[11].board_m);
    look.spots[10].flux = 10.2;
    look.spots.erase(look.spots.begin() + 11);
    Scene wide(0.008);
    const auto found = identified(wide, look);
    CHECK(finding_of(found, 10).doubt == Doubt::merged);
    CHECK(finding_of(found, 11).doubt == Doubt::merged);
    CHECK(finding_of(found, 10).spot == 10);
    CHECK(finding_of(found, 11).spot == 10);
    CHECK(finding_of(found, 12).spot == 11);
    CHECK(found.false_spots.empty());
  }
}

TEST_CASE("identify: groups of facets share one common shift") {
  const Scene scene;
  std::vector<Vec2> places;
  for (const naming::Cell& cell : scene.target.cells) places.push_back(cell.place_m);
  std::vector<BoardLook> looks(3);
  for (std::size_t c = 0; c < 36; ++c) {
    BoardLook& look = looks[c % 3];
    look.cells.push_back(c);
    look.spots.push_back({.board_m = scene.target.cells[c].mark_m + Vec2(0.02, 0.02)});
  }
  const auto found = naming::identify(scene.target, looks, {});
  REQUIRE(found.ok());
  REQUIRE(found.value().findings.size() == 36);
  for (const Finding& finding : found.value().findings) {
    CHECK(finding.doubt == Doubt::none);
    CHECK(looks[finding.look].cells[finding.spot] == finding.cell);
  }
}

TEST_CASE("identify: what cannot be worked on is refused") {
  const Scene scene;
  const BoardLook look = scene.perfect();
  CHECK_FALSE(naming::identify(scene.target, {}, {}).ok());
  BoardLook twice = look;
  twice.cells.push_back(3);
  CHECK_FALSE(naming::identify(scene.target, {twice}, {}).ok());
  BoardLook far = look;
  far.cells.push_back(99);
  CHECK_FALSE(naming::identify(scene.target, {far}, {}).ok());
  BoardLook broken = look;
  broken.spots[2].board_m.x = std::nan("");
  CHECK_FALSE(naming::identify(scene.target, {broken}, {}).ok());
  naming::IdentifySettings settings;
  settings.detection = 1.0;
  CHECK_FALSE(naming::identify(scene.target, {look}, settings).ok());
}

TEST_CASE("priors: a facet that went through a round is known better") {
  dish::Dish dish = support::reference_dish();
  CHECK(naming::priors_of(dish, naming::k_raw_tilt_rad)[5].sigma_rad == naming::k_raw_tilt_rad);
  dish.rounds.push_back({.name = "first", .spots = {{{"F6"}, {0.0, 0.0}, {}}}});
  CHECK(naming::priors_of(dish, naming::k_raw_tilt_rad)[5].sigma_rad == naming::k_raw_tilt_rad);
  dish.rounds[0].turned.push_back({{"F9"}, "1", 0.5});
  CHECK(naming::priors_of(dish, naming::k_raw_tilt_rad)[5].sigma_rad == naming::k_turned_tilt_rad);
  CHECK(naming::priors_of(dish, naming::k_raw_tilt_rad)[6].sigma_rad == naming::k_raw_tilt_rad);
}
