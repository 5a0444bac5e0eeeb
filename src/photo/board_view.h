// The board face on: a photograph resampled to a square grid of board places, and what is brighter
// in one such view than in another.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "photo/board_marks.h"
#include "photo/image.h"
#include "photo/rectify.h"

namespace photo {

/// What is known of a cell of a view; several may hold.
inline constexpr std::uint8_t k_outside_photo = 1;
inline constexpr std::uint8_t k_cell_saturated = 2;
inline constexpr std::uint8_t k_on_mark =
    4;  ///< printed: neither light nor background is known there

/// Light as shares of full scale, row by row from the board's top left corner. Places in cells are
/// measured from that corner, right and down: the middle of the first cell is (0.5, 0.5).
struct BoardView {
  int columns = 0;
  int rows = 0;
  double pitch_m = 0.0;
  base::Vec2 corner_m{0.0, 0.0};
  std::vector<float> light;
  std::vector<std::uint8_t> state;

  [[nodiscard]] std::size_t cells() const { return light.size(); }
  [[nodiscard]] std::size_t index(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column);
  }
  [[nodiscard]] base::Vec2 to_board(const base::Vec2& cell) const {
    return {corner_m.x + cell.x * pitch_m, corner_m.y - cell.y * pitch_m};
  }
  [[nodiscard]] base::Vec2 to_cell(const base::Vec2& board_m) const {
    return {(board_m.x - corner_m.x) / pitch_m, (corner_m.y - board_m.y) / pitch_m};
  }
};

/// Cells about as large as the reduced photo's pixels in the board's middle, at most 1.6 million,
/// at least 64 across.
double good_pitch_m(const Image& image, const Rectification& view, const Board& board);

/// Each cell's light, interpolated between the four nearest pixels.
BoardView view_of_board(const Image& image, const Rectification& view, const Board& board,
                        double pitch_m);

/// `view` less `reference`, which must have the same grid, cell by cell; what is outside either
/// photo is 0. When the middles of the two differ by more than 2 %, the reference is scaled to the
/// view's (and `notes` says so): the exposure or the daylight has changed.
BoardView less_reference(const BoardView& view, const BoardView& reference,
                         std::vector<std::string>& notes);

/// `view` less its own background: medians of overlapping windows of a fifth of the board, of
/// cells that are not far brighter than the rest, interpolated.
BoardView less_background(const BoardView& view);

/// Median of the cells inside the photo and 1.4826 times the median distance from it, which is the
/// standard deviation of normal noise. Of every third cell.
struct Level {
  double median = 0.0;
  double sigma = 0.0;
};
Level level_of(const BoardView& view);

}  // namespace photo
