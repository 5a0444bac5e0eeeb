// Pictures of a board: exact maps through any number of marks, and the pictures that are refused.
#include "photo/homography.h"

#include <doctest/doctest.h>

#include <fmt/format.h>

#include "support/outside.h"
#include "support/seeded.h"

namespace {

using base::Vec2;
using base::Vec3;
using photo::MarkPair;

/// A camera's view of the board: a projective map with the picture's y downward.
Vec2 seen(const base::Mat3& image_from_board, const Vec2& board_m) {
  const Vec3 p = image_from_board * Vec3(board_m, 1.0);
  return {p.x / p.z, p.y / p.z};
}

base::Mat3 random_camera(support::Seeded& random) {
  return {Vec3{random(1500.0, 2500.0), random(-300.0, 300.0), random(-0.2, 0.2)},
          Vec3{random(-300.0, 300.0), random(-2500.0, -1500.0), random(-0.2, 0.2)},
          Vec3{random(500.0, 1500.0), random(400.0, 1200.0), 1.0}};
}

std::vector<MarkPair> corner_marks(const base::Mat3& camera) {
  std::vector<MarkPair> marks;
  for (const Vec2 corner : {Vec2{-0.3, 0.3}, {0.3, 0.3}, {0.3, -0.3}, {-0.3, -0.3}}) {
    marks.push_back({seen(camera, corner), corner});
  }
  return marks;
}

std::string refusal(const std::vector<MarkPair>& marks) {
  const auto homography = photo::homography_through(marks);
  REQUIRE(!homography.ok());
  return base::to_line(homography.problems().front());
}

}  // namespace

TEST_CASE("any place of a board is found again from its picture") {
  support::Seeded random(9);
  for (int trial = 0; trial < 50; ++trial) {
    const base::Mat3 camera = random_camera(random);
    auto marks = corner_marks(camera);
    for (int extra = 0; extra < trial % 5; ++extra) {
      const Vec2 place{random(-0.3, 0.3), random(-0.3, 0.3)};
      marks.push_back({seen(camera, place), place});
    }
    const auto homography = photo::homography_through(marks);
    REQUIRE(homography.ok());
    for (int k = 0; k < 10; ++k) {
      const Vec2 place{random(-0.4, 0.4), random(-0.4, 0.4)};
      const auto found = photo::to_board(homography.value(), seen(camera, place));
      REQUIRE(found.has_value());
      CHECK(glm::distance(*found, place) < 1e-12);
    }
  }
}

// A board of 300 x 200 mm seen aslant, corners at (100, 100), (700, 160), (640, 560), (140, 500)
// px. The exact map in whole numbers has (983/509, 859/2545, 100), (469/2545, 1268/509, 100),
// (-1/10180, 1/1018, 1); both second axes point down there, ours on the board up.
TEST_CASE("places in a slanted picture are those of the exact map in fractions") {
  const std::vector<MarkPair> marks{{{100.0, 100.0}, {0.0, 0.0}},
                                    {{700.0, 160.0}, {0.3, 0.0}},
                                    {{640.0, 560.0}, {0.3, -0.2}},
                                    {{140.0, 500.0}, {0.0, -0.2}}};
  const auto homography = photo::homography_through(marks);
  REQUIRE(homography.ok());
  struct Row {
    Vec2 image_px, board_mm;
  };
  const Row rows[] = {{{400.0, 300.0}, {154.3809489, 76.0316214}},
                      {{320.0, 240.0}, {111.4802506, 51.7991198}},
                      {{640.0, 480.0}, {293.3616643, 154.5350155}}};
  constexpr double pins[3][2] = {{154.380948878, 76.031621433},
                                 {111.480250638, 51.7991197583},
                                 {293.361664333, 154.535015507}};
  for (std::size_t k = 0; k < 3; ++k) {
    const auto place = photo::to_board(homography.value(), rows[k].image_px);
    REQUIRE(place.has_value());
    const double ours_mm[] = {1e3 * place->x, -1e3 * place->y};
    const double theirs_mm[] = {rows[k].board_mm.x, rows[k].board_mm.y};
    for (std::size_t axis = 0; axis < 2; ++axis) {
      support::check_outside(
          {.what = fmt::format("slanted picture, place {}, axis {}, mm", k, axis),
           .source = "projective map through four corners in exact fractions",
           .outside = theirs_mm[axis],
           .ours = ours_mm[axis],
           .tolerance = 6e-8,
           .why = support::k_half_digit,
           .pin = pins[k][axis]});
    }
  }
}

TEST_CASE("pictures that tell nothing are refused, each with its own message") {
  support::Seeded random(10);
  const base::Mat3 camera = random_camera(random);
  auto marks = corner_marks(camera);
  marks.pop_back();
  CHECK(refusal(marks).find("at least four marks") != std::string::npos);

  marks = corner_marks(camera);
  for (auto& mark : marks) mark.image_px = {100.0, 100.0};
  CHECK(refusal(marks).find("all on one spot") != std::string::npos);

  marks.clear();
  for (const Vec2 place : {Vec2{-0.3, 0.0}, {0.0, 0.0}, {0.3, 0.0}, {0.1, 0.2}}) {
    marks.push_back({seen(camera, place), place});
  }
  CHECK(refusal(marks).find("three of them in a line") != std::string::npos);

  marks = corner_marks(camera);
  std::swap(marks[0].image_px, marks[1].image_px);
  std::swap(marks[2].image_px, marks[3].image_px);
  CHECK(refusal(marks).find("mirrored") != std::string::npos);

  marks = corner_marks(camera);
  std::swap(marks[0].image_px, marks[1].image_px);
  CHECK(refusal(marks).find("a horizon between them") != std::string::npos);
}
