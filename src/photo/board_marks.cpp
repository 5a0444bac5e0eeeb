// Lays out the eight marks of a board.
#include "photo/board_marks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace photo {
namespace {

constexpr double k_least_side_m = 0.1;
constexpr double k_most_side_m = 10.0;
constexpr double k_least_mark_m = 0.005;

}  // namespace

const std::vector<double>& circles_of(MarkKind kind) {
  static const std::vector<double> ring{1.0, 0.6};
  static const std::vector<double> eye{1.0, 0.7, 0.4};
  static const std::vector<double> target{1.0, 0.78, 0.56, 0.28};
  if (kind == MarkKind::ring) return ring;
  return kind == MarkKind::eye ? eye : target;
}

std::array<BoardMark, k_marks> marks_of(const Board& board) {
  const double x = 0.5 * board.width_m - 0.75 * board.mark_m;
  const double y = 0.5 * board.height_m - 0.75 * board.mark_m;
  return {{{"top left", MarkKind::target, {-x, y}},
           {"top", MarkKind::eye, {0.0, y}},
           {"top right", MarkKind::ring, {x, y}},
           {"right", MarkKind::eye, {x, 0.0}},
           {"bottom right", MarkKind::eye, {x, -y}},
           {"bottom", MarkKind::eye, {0.0, -y}},
           {"bottom left", MarkKind::eye, {-x, -y}},
           {"left", MarkKind::eye, {-x, 0.0}}}};
}

double good_mark_m(double width_m, double height_m) {
  const double mm = std::floor(base::mm_from_m(std::min(width_m, height_m)) / 14.0);
  return base::m_from_mm(std::clamp(mm, 12.0, 80.0));
}

base::Problems check(const Board& board) {
  base::Problems problems;
  const auto side = [&problems](const char* name, double value_m) {
    if (value_m >= k_least_side_m && value_m <= k_most_side_m) return;
    problems.push_back(
        {name, fmt::format("{} mm", base::mm_from_m(value_m)), "a side of 100 to 10000 mm"});
  };
  side("board.width_mm", board.width_m);
  side("board.height_mm", board.height_m);
  // Three marks on a side, with a diameter between neighbours.
  const double most_m = std::min(board.width_m, board.height_m) / 5.5;
  if (problems.empty() && !(board.mark_m >= k_least_mark_m && board.mark_m <= most_m)) {
    problems.push_back({"board.mark_mm", fmt::format("{} mm", base::mm_from_m(board.mark_m)),
                        fmt::format("marks of 5 to {:.0f} mm on this board",
                                    std::floor(base::mm_from_m(most_m)))});
  }
  return problems;
}

double radius_of_darkness_m(MarkKind kind, double mark_m) {
  double second = 0.0;
  double fourth = 0.0;
  double sign = 1.0;
  for (const double share : circles_of(kind)) {
    second += sign * share * share;
    fourth += sign * share * share * share * share;
    sign = -sign;
  }
  return 0.5 * mark_m * std::sqrt(fourth / second);
}

}  // namespace photo
