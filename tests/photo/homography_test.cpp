// Pictures of a board: exact maps through any number of marks, and the pictures that are refused.
#include "photo/homography.h"

#include <doctest/doctest.h>

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
