// Loops over cells in fours. Includes nothing but lanes: see lanes.h.
#include "optics/splat_rows.h"

#include "base/lanes.h"

namespace optics {
namespace {

using R = base::Reals<float, 4>;
using W = base::Ints<float, 4>;

struct Samples {
  R low;
  R high;
};

/// Two neighbours of a table for each lane.
LANES_INLINE Samples look_up(const float* table, W step) {
  const float* p0 = table + step.v[0];
  const float* p1 = table + step.v[1];
  const float* p2 = table + step.v[2];
  const float* p3 = table + step.v[3];
  return {R::of(R::Vector{p0[0], p1[0], p2[0], p3[0]}),
          R::of(R::Vector{p0[1], p1[1], p2[1], p3[1]})};
}

/// Columns of a row between which r^2 can be below `most`, in fours.
struct Columns {
  int first = 0, last = 0;
};

LANES_INLINE Columns reached(const CellRange& range, const RowSplat& s, float y) {
  const float by = s.b * y;
  const float discriminant = by * by - s.a * (s.c * y * y - s.most);
  if (!(discriminant > 0.0f)) return {};
  const float middle = s.middle_column - by / s.a;
  const float half = __builtin_sqrtf(discriminant) / s.a;
  const float low = middle - half;
  const float high = middle + half + 1.0f;
  Columns found{range.column0, range.column1};
  if (low > static_cast<float>(range.column0)) {
    if (low >= static_cast<float>(range.column1)) return {};
    found.first = static_cast<int>(low) & ~3;
  }
  if (high < static_cast<float>(range.column1)) {
    if (high <= static_cast<float>(range.column0)) return {};
    found.last = (static_cast<int>(high) + 3) & ~3;
  }
  return found;
}

template <bool is_clipped>
LANES_INLINE double add_rows(float* cells, int stride, const CellRange& range, const RowSplat& s) {
  const R steps(s.steps_per_unit);
  const R last(s.last_step);
  const R a(s.a);
  const R weight(s.weight);
  const R zero(0.0f);
  double sum = 0.0;
  for (int row = range.row0; row < range.row1; ++row) {
    const float y = static_cast<float>(row) - s.middle_row;
    const Columns columns = reached(range, s, y);
    float* to = cells + static_cast<std::ptrdiff_t>(row) * stride;
    const R by2(2.0f * s.b * y);
    const R cy2(s.c * y * y);
    const R keep(s.keep + s.keep_y * y);
    R x = R::of(R::Vector{0.0f, 1.0f, 2.0f, 3.0f}) +
          R(static_cast<float>(columns.first) - s.middle_column);
    R row_sum(0.0f);
    for (int column = columns.first; column < columns.last; column += 4) {
      const R square = base::greatest(x * (a * x + by2) + cy2, zero);
      const R place = base::least(base::sqrt(square) * steps, last);
      const W step = base::truncated(place);
      const Samples sample = look_up(s.density, step);
      const R rest = place - base::to_reals(step);
      R light = weight * (sample.low + rest * (sample.high - sample.low));
      if (is_clipped) {
        light = light * base::least(base::greatest(keep + R(s.keep_x) * x, zero), R(1.0f));
      }
      base::store<float, 4>(to + column, base::load<float, 4>(to + column) + light);
      row_sum = row_sum + light;
      x = x + R(4.0f);
    }
    sum += static_cast<double>((row_sum.v[0] + row_sum.v[1]) + (row_sum.v[2] + row_sum.v[3]));
  }
  return sum;
}

}  // namespace

double add_splat_rows(float* cells, int stride, const CellRange& range, const RowSplat& splat) {
  return splat.is_clipped ? add_rows<true>(cells, stride, range, splat)
                          : add_rows<false>(cells, stride, range, splat);
}

void blend(const float* a, float first, const float* b, float second, float* to, int count) {
  const R share_a(first);
  const R share_b(second);
  for (int k = 0; k < count; k += 4) {
    base::store<float, 4>(
        to + k, share_a * base::load<float, 4>(a + k) + share_b * base::load<float, 4>(b + k));
  }
}

double weighted_sum(const float* cells, const float* weights, int stride, const CellRange& range) {
  double sum = 0.0;
  for (int row = range.row0; row < range.row1; ++row) {
    const std::ptrdiff_t start = static_cast<std::ptrdiff_t>(row) * stride;
    R row_sum(0.0f);
    for (int column = range.column0; column < range.column1; column += 4) {
      row_sum = row_sum + base::load<float, 4>(cells + start + column) *
                              base::load<float, 4>(weights + start + column);
    }
    sum += static_cast<double>((row_sum.v[0] + row_sum.v[1]) + (row_sum.v[2] + row_sum.v[3]));
  }
  return sum;
}

void to_counts(float* cells, std::int32_t* counts, int stride, const CellRange& range,
               float scale) {
  const R scales(scale);
  const R half(0.5f);
  for (int row = range.row0; row < range.row1; ++row) {
    float* from = cells + static_cast<std::ptrdiff_t>(row) * stride;
    for (int column = range.column0; column < range.column1; column += 4, counts += 4) {
      const R light = base::load<float, 4>(from + column);
      base::store<float, 4>(counts, base::truncated(light * scales + half));
      base::store<float, 4>(from + column, R(0.0f));
    }
  }
}

void add_counts(std::int64_t* map, const std::int32_t* counts, int stride, const CellRange& range,
                bool take_away) {
  const std::int64_t sign = take_away ? -1 : 1;
  for (int row = range.row0; row < range.row1; ++row) {
    std::int64_t* to = map + static_cast<std::ptrdiff_t>(row) * stride;
    for (int column = range.column0; column < range.column1; ++column) {
      to[column] += sign * *counts++;
    }
  }
}

}  // namespace optics
