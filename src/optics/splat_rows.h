// The inner loops of the quick evaluation, four cells at a time: in a file of
// its own, because it is compiled with vector instructions where the rest of
// the program is not. Only + - * / and square roots of single numbers, so every
// machine gives the same bits.
#pragma once

#include <cstddef>
#include <cstdint>

namespace optics {

/// A stretch of a square grid of cells, columns in fours.
struct CellRange {
  int column0 = 0, column1 = 0;  ///< one past the last; multiples of four
  int row0 = 0, row1 = 0;        ///< one past the last
};

/// density(r), r^2 = a x^2 + 2 b x y + c y^2 about the middle, in cells.
struct RowSplat {
  float middle_column = 0.0f, middle_row = 0.0f;
  float a = 0.0f, b = 0.0f, c = 0.0f;
  float weight = 0.0f;
  float most = 0.0f;               ///< r^2 of its reach
  const float* density = nullptr;  ///< over r at even steps; zeros from `last_step` on
  float steps_per_unit = 0.0f;
  float last_step = 0.0f;
  /// Cells keep the share clamp(keep + keep_x x + keep_y y, 0, 1).
  bool is_clipped = false;
  float keep = 0.0f, keep_x = 0.0f, keep_y = 0.0f;
};

/// Adds a splat to the cells of `range`; answers the sum of what it added.
double add_splat_rows(float* cells, int stride, const CellRange& range, const RowSplat& splat);

/// first a + second b of `count` numbers, a multiple of four.
void blend(const float* a, float first, const float* b, float second, float* to, int count);

/// Sum of cells times weights.
double weighted_sum(const float* cells, const float* weights, int stride, const CellRange& range);

/// The cells of a range as whole numbers, `scale` to one, row by row; the cells become zero. They
/// must be below 2^31 / scale.
void to_counts(float* cells, std::int32_t* counts, int stride, const CellRange& range, float scale);

/// Adds them to a map of cells, or takes them away.
void add_counts(std::int64_t* map, const std::int32_t* counts, int stride, const CellRange& range,
                bool take_away);

}  // namespace optics
