// The board's own marks: their layout, their sheet, and boards that are refused.
#include "photo/board_marks.h"

#include <doctest/doctest.h>

#include "photo/board_sheet.h"
#include "support/says.h"

using base::Vec2;
using photo::Board;
using photo::MarkKind;

TEST_CASE("turned or mirrored, the marks' order of kinds is never that of the upright board") {
  const auto marks = photo::marks_of(Board{});
  std::vector<MarkKind> kinds;
  for (const auto& mark : marks) kinds.push_back(mark.kind);
  for (int mirrored = 0; mirrored < 2; ++mirrored) {
    for (std::size_t turn = 0; turn < 8; turn += 2) {
      if (mirrored == 0 && turn == 0) continue;
      std::vector<MarkKind> other;
      for (std::size_t k = 0; k < 8; ++k) {
        other.push_back(kinds[mirrored != 0 ? (10 - k + turn) % 8 : (k + turn) % 8]);
      }
      CHECK(other != kinds);
    }
  }
}

TEST_CASE("marks stand in from the edges, corners and edge middles, and do not touch") {
  const Board board{0.6, 0.4, 0.028};
  const auto marks = photo::marks_of(board);
  CHECK(marks[0].place_m.x == doctest::Approx(-0.3 + 0.021));
  CHECK(marks[0].place_m.y == doctest::Approx(0.2 - 0.021));
  CHECK(marks[1].place_m.x == 0.0);
  CHECK(marks[4].place_m == -marks[0].place_m);
  for (std::size_t i = 0; i < marks.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      CHECK(glm::distance(marks[i].place_m, marks[j].place_m) > 2.0 * board.mark_m);
    }
  }
  CHECK(photo::good_mark_m(0.43, 0.5) == doctest::Approx(0.030));
  CHECK(photo::good_mark_m(0.1, 0.1) == doctest::Approx(0.012));
  CHECK(photo::good_mark_m(9.0, 9.0) == doctest::Approx(0.080));
  for (const double side : {0.1, 0.2, 0.43, 1.0, 10.0}) {
    CHECK(photo::check({side, side, photo::good_mark_m(side, side)}).empty());
  }
}

TEST_CASE("the darkness of a ring has its middle as a circle by the fourth power") {
  // A black ring from a to b, both moved by the square of their radius: (b^4 - a^4) / (b^2 - a^2)
  // = a^2 + b^2.
  const double r = photo::radius_of_darkness_m(MarkKind::ring, 0.02);
  CHECK(r == doctest::Approx(0.01 * std::sqrt(1.0 + 0.36)).epsilon(1e-12));
}

TEST_CASE("boards that cannot be are refused") {
  using support::says;
  CHECK(says(base::to_text(photo::check({0.05, 0.4, 0.02})), "board.width_mm"));
  CHECK(says(base::to_text(photo::check({0.4, 40.0, 0.02})), "board.height_mm"));
  CHECK(says(base::to_text(photo::check({0.4, 0.4, 0.2})), "marks of 5 to 72 mm"));
  CHECK(says(base::to_text(photo::check({0.4, 0.4, 0.001})), "board.mark_mm: 1 mm"));
}

TEST_CASE("the sheet holds every mark at true scale, and a rule to check it by") {
  for (const double side : {0.1, 0.43, 2.0}) {
    CAPTURE(side);
    const Board board{side, side, photo::good_mark_m(side, side)};
    const std::string sheet = photo::board_sheet(board);
    for (const auto& mark : photo::marks_of(board)) {
      CHECK(support::says(sheet, std::string(">") + mark.name + "</text>"));
    }
    CHECK(support::says(sheet, "viewBox=\"0 0 210 297\""));
    CHECK(support::says(sheet, "width=\"210mm\" height=\"297mm\""));
    CHECK(support::says(sheet, "x1=\"12\" y1=\"279\" x2=\"112\" y2=\"279\""));  // 100 mm
    std::size_t circles = 0;
    for (std::size_t at = sheet.find("<circle"); at != std::string::npos;
         at = sheet.find("<circle", at + 1)) {
      ++circles;
    }
    CHECK(circles == 4 + 2 + 6 * 3);
  }
  CHECK(support::says(photo::board_sheet(Board{0.43, 0.43, 0.03}),
                      "middles of corner marks 385 mm apart across, 385 mm apart down"));
}
