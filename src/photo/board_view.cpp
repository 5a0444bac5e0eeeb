// Resamples photographs to the board and takes backgrounds off.
#include "photo/board_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/check.h"

namespace photo {
namespace {

using base::Vec2;
using base::Vec3;

constexpr double k_most_cells = 1.6e6;
constexpr double k_least_across = 64.0;
constexpr double k_gain_slack = 0.02;
constexpr float k_per_code = 1.0f / static_cast<float>(k_full_scale);

/// Light between four pixels; false outside the picture.
bool sample(const Image& image, double px, double py, float& light, std::uint8_t& state) {
  const double x = px - 0.5;
  const double y = py - 0.5;
  if (!(x >= 0.0 && y >= 0.0 && x < image.width - 1 && y < image.height - 1)) return false;
  const int left = static_cast<int>(x);
  const int top = static_cast<int>(y);
  const auto fx = static_cast<float>(x - left);
  const auto fy = static_cast<float>(y - top);
  const std::uint16_t* row =
      image.light.data() + static_cast<std::size_t>(top) * image.width + left;
  const std::uint16_t* next = row + image.width;
  const float above = static_cast<float>(row[0]) * (1.0f - fx) + static_cast<float>(row[1]) * fx;
  const float below = static_cast<float>(next[0]) * (1.0f - fx) + static_cast<float>(next[1]) * fx;
  light = (above * (1.0f - fy) + below * fy) * k_per_code;
  const std::uint16_t most = std::max({row[0], row[1], next[0], next[1]});
  state = most >= k_saturated_from ? k_cell_saturated : 0;
  return true;
}

double median_of(std::vector<float>& values) {
  if (values.empty()) return 0.0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Every so manieth cell that lies inside the photo.
std::vector<float> some_cells(const BoardView& view, std::size_t step) {
  std::vector<float> values;
  values.reserve(view.cells() / step + 1);
  for (std::size_t k = 0; k < view.cells(); k += step) {
    if ((view.state[k] & k_outside_photo) == 0) values.push_back(view.light[k]);
  }
  return values;
}

BoardView empty_like(const BoardView& view) {
  BoardView result = view;
  std::fill(result.light.begin(), result.light.end(), 0.0f);
  return result;
}

/// Within 0.55 diameters of a mark's middle.
void tell_marks(BoardView& view, const Board& board) {
  const double reach = 0.55 * board.mark_m / view.pitch_m;
  for (const BoardMark& mark : marks_of(board)) {
    const Vec2 middle = view.to_cell(mark.place_m);
    const auto bound = [](double value, int most) {
      return static_cast<int>(std::clamp(value, 0.0, static_cast<double>(most)));
    };
    for (int row = bound(middle.y - reach, view.rows); row < bound(middle.y + reach + 1, view.rows);
         ++row) {
      for (int column = bound(middle.x - reach, view.columns);
           column < bound(middle.x + reach + 1, view.columns); ++column) {
        if (glm::distance(middle, {column + 0.5, row + 0.5}) < reach) {
          view.state[view.index(column, row)] |= k_on_mark;
        }
      }
    }
  }
}

constexpr int k_knots = 21;  ///< of the background, on each side

/// Background at knots spread over the board: medians over a fifth of it.
std::vector<float> knots_of(const BoardView& view) {
  const Level level = level_of(view);
  const double most = level.median + std::max(4.0 * level.sigma, 0.5 * level.median);
  std::vector<float> knots(static_cast<std::size_t>(k_knots * k_knots));
  const int reach_x = view.columns / 10 + 1;
  const int reach_y = view.rows / 10 + 1;
  const int step = std::max(1, (reach_x + reach_y) / 40);
  for (int j = 0; j < k_knots; ++j) {
    for (int i = 0; i < k_knots; ++i) {
      const int x = i * (view.columns - 1) / (k_knots - 1);
      const int y = j * (view.rows - 1) / (k_knots - 1);
      std::vector<float> values;
      for (int row = std::max(0, y - reach_y); row < std::min(view.rows, y + reach_y + 1);
           row += step) {
        for (int column = std::max(0, x - reach_x);
             column < std::min(view.columns, x + reach_x + 1); column += step) {
          const std::size_t k = view.index(column, row);
          if ((view.state[k] & (k_outside_photo | k_on_mark)) == 0 && view.light[k] <= most) {
            values.push_back(view.light[k]);
          }
        }
      }
      knots[static_cast<std::size_t>(j * k_knots + i)] =
          static_cast<float>(values.empty() ? level.median : median_of(values));
    }
  }
  return knots;
}

}  // namespace

double good_pitch_m(const Image& image, const Rectification& view, const Board& board) {
  const double scale = px_per_m(view, {0.0, 0.0}) / image.reduction;
  const double shorter_m = std::min(board.width_m, board.height_m);
  double pitch_m = shorter_m / k_least_across;
  if (scale > 0.0) pitch_m = std::min(pitch_m, 1.0 / scale);
  return std::max(pitch_m, std::sqrt(board.width_m * board.height_m / k_most_cells));
}

BoardView view_of_board(const Image& image, const Rectification& view, const Board& board,
                        double pitch_m) {
  BoardView result{.columns = std::max(1, static_cast<int>(board.width_m / pitch_m)),
                   .rows = std::max(1, static_cast<int>(board.height_m / pitch_m)),
                   .pitch_m = pitch_m,
                   .corner_m = {-0.5 * board.width_m, 0.5 * board.height_m}};
  const std::size_t cells =
      static_cast<std::size_t>(result.columns) * static_cast<std::size_t>(result.rows);
  result.light.assign(cells, 0.0f);
  result.state.assign(cells, k_outside_photo);
  const auto& p = view.unknowns;
  const double scale = view.focal_px / image.reduction;
  const Vec2 middle = view.middle_px / static_cast<double>(image.reduction);
  for (int row = 0; row < result.rows; ++row) {
    for (int column = 0; column < result.columns; ++column) {
      const Vec2 place = result.to_board({column + 0.5, row + 0.5}) / view.unit_m;
      const double weight = p[6] * place.x + p[7] * place.y + 1.0;
      if (!(weight > 0.0)) continue;
      const double share = 1.0 / weight;
      const double x = (p[0] * place.x + p[1] * place.y + p[2]) * share;
      const double y = (p[3] * place.x + p[4] * place.y + p[5]) * share;
      const double bent = scale * (1.0 + p[8] * (x * x + y * y));
      const std::size_t k = result.index(column, row);
      sample(image, middle.x + x * bent, middle.y + y * bent, result.light[k], result.state[k]);
    }
  }
  tell_marks(result, board);
  return result;
}

BoardView less_reference(const BoardView& view, const BoardView& reference,
                         std::vector<std::string>& notes) {
  CHECK(view.columns == reference.columns && view.rows == reference.rows,
        "a view and its reference have one grid");
  const double here = level_of(view).median;
  const double there = level_of(reference).median;
  float gain = 1.0f;
  if (here > 0.0 && there > 0.0 && std::abs(here / there - 1.0) > k_gain_slack) {
    gain = static_cast<float>(here / there);
    notes.push_back(
        fmt::format("the reference is {:.2f} times as bright as the photo and was scaled: the "
                    "exposure was not locked, or the daylight changed",
                    there / here));
  }
  BoardView result = empty_like(view);
  for (std::size_t k = 0; k < view.cells(); ++k) {
    result.state[k] |= reference.state[k];
    if ((result.state[k] & k_outside_photo) == 0) {
      result.light[k] = view.light[k] - gain * reference.light[k];
    }
  }
  return result;
}

BoardView less_background(const BoardView& view) {
  const std::vector<float> knots = knots_of(view);
  BoardView result = empty_like(view);
  const auto along = [](int cell, int cells) {
    return cells > 1 ? static_cast<float>(cell) * (k_knots - 1) / static_cast<float>(cells - 1)
                     : 0.0f;
  };
  for (int row = 0; row < view.rows; ++row) {
    const float v = along(row, view.rows);
    const int j = std::min(static_cast<int>(v), k_knots - 2);
    const float fv = v - static_cast<float>(j);
    for (int column = 0; column < view.columns; ++column) {
      const std::size_t k = view.index(column, row);
      if ((view.state[k] & k_outside_photo) != 0) continue;
      const float u = along(column, view.columns);
      const int i = std::min(static_cast<int>(u), k_knots - 2);
      const float fu = u - static_cast<float>(i);
      const float* knot = knots.data() + j * k_knots + i;
      const float above = knot[0] * (1.0f - fu) + knot[1] * fu;
      const float below = knot[k_knots] * (1.0f - fu) + knot[k_knots + 1] * fu;
      result.light[k] = view.light[k] - (above * (1.0f - fv) + below * fv);
    }
  }
  return result;
}

Level level_of(const BoardView& view) {
  std::vector<float> values = some_cells(view, 3);
  Level level{.median = median_of(values)};
  for (float& value : values) value = std::abs(value - static_cast<float>(level.median));
  level.sigma = 1.4826 * median_of(values);
  return level;
}

}  // namespace photo
