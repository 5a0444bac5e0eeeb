// Cells cut by the receiver's edge, and counting.
#include "optics/light_map.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

/// Integrals over the covered part of a cell, in the cell's own units about its middle.
struct Moments {
  double area = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0, yy = 0.0;

  /// Adds the rectangle [x0, x1] times [y0, y1].
  void add(double x0, double x1, double y0, double y1) {
    if (!(x1 > x0 && y1 > y0)) return;
    const auto powers = [](double low, double high) {
      return std::array<double, 3>{high - low, (high * high - low * low) / 2.0,
                                   (high * high * high - low * low * low) / 3.0};
    };
    const auto in_x = powers(x0, x1);
    const auto in_y = powers(y0, y1);
    area += in_x[0] * in_y[0];
    x += in_x[1] * in_y[0];
    y += in_x[0] * in_y[1];
    xx += in_x[2] * in_y[0];
    xy += in_x[1] * in_y[1];
    yy += in_x[0] * in_y[2];
  }
};

Moments moments_of(const SceneReceiver& receiver, const Vec2& middle, double cell) {
  const Vec2 half = receiver.half_m / cell;
  const Vec2 at = middle / cell;
  const auto within = [](double value) { return std::clamp(value, -0.5, 0.5); };
  Moments made;
  if (!receiver.is_round) {
    made.add(within(-half.x - at.x), within(half.x - at.x), within(-half.y - at.y),
             within(half.y - at.y));
    return made;
  }
  constexpr int strips = 16;
  for (int k = 0; k < strips; ++k) {
    const double low = static_cast<double>(k) / strips - 0.5;
    const double y = at.y + low + 0.5 / strips;
    const double square = half.x * half.x - y * y;
    if (!(square > 0.0)) continue;
    const double reach = std::sqrt(square);
    made.add(within(-reach - at.x), within(reach - at.x), low, low + 1.0 / strips);
  }
  return made;
}

/// Spreads a cut cell's share over the quadratic through its neighbours' means.
class CellShares {
 public:
  CellShares(Canvas& canvas, int row, int column) : canvas_(canvas), row_(row), column_(column) {}

  void enter(const Moments& m) {
    const double xx = m.xx - m.area / 12.0;
    const double yy = m.yy - m.area / 12.0;
    const bool is_at_border =
        row_ == 0 || column_ == 0 || row_ + 1 == canvas_.cells || column_ + 1 == canvas_.cells;
    if (is_at_border) {
      give(0, 0, m.area);
      return;
    }
    give(0, 0, m.area - xx - yy);
    for (const int way : {-1, 1}) {
      give(0, way, 0.5 * (way * m.x + xx));
      give(way, 0, 0.5 * (way * m.y + yy));
      for (const int across : {-1, 1}) give(across, way, 0.25 * way * across * m.xy);
    }
  }

 private:
  void give(int row, int column, double share) {
    canvas_.weights[static_cast<std::size_t>((row_ + row) * canvas_.cells + column_ + column)] +=
        static_cast<float>(share);
  }

  Canvas& canvas_;
  int row_;
  int column_;
};

bool is_empty(const CellRange& range) {
  return range.column1 <= range.column0 || range.row1 <= range.row0;
}

}  // namespace

Canvas make_canvas(const SceneReceiver& receiver, int cells, double width_m) {
  Canvas canvas{.cells = cells, .width_m = width_m, .weights = {}};
  const double cell = canvas.cell_m();
  canvas.weights.assign(static_cast<std::size_t>(cells) * static_cast<std::size_t>(cells), 0.0f);
  const double half_diagonal = 0.7072 * cell;
  for (int row = 0; row < cells; ++row) {
    for (int column = 0; column < cells; ++column) {
      const Vec2 middle{(column + 0.5) * cell - 0.5 * width_m, (row + 0.5) * cell - 0.5 * width_m};
      const double distance = std::sqrt(glm::dot(middle, middle));
      const bool is_far_outside = receiver.is_round
                                      ? distance > receiver.half_m.x + half_diagonal
                                      : std::abs(middle.x) > receiver.half_m.x + half_diagonal ||
                                            std::abs(middle.y) > receiver.half_m.y + half_diagonal;
      if (is_far_outside) continue;
      CellShares(canvas, row, column).enter(moments_of(receiver, middle, cell));
    }
  }
  return canvas;
}

std::vector<double> in_half_cells(const std::vector<double>& cells, int count) {
  const auto size = static_cast<std::size_t>(count);
  // How much more the second half of the middle one of five holds than half, in 1/256 of the cell.
  const auto lean = [](double a, double b, double c, double d) {
    return (3.0 * (a - d) + 22.0 * (c - b)) / 256.0;
  };
  const auto at = [&](std::ptrdiff_t k) {  // beyond the border the light is thought zero
    return k >= 0 && k < static_cast<std::ptrdiff_t>(size);
  };
  // Along the rows, then across them.
  std::vector<double> wide(2 * size * size, 0.0);
  for (std::size_t row = 0; row < size; ++row) {
    const double* from = cells.data() + row * size;
    const auto value = [&](std::ptrdiff_t k) { return at(k) ? from[k] : 0.0; };
    double* to = wide.data() + 2 * row * size;
    for (std::size_t k = 0; k < size; ++k) {
      const auto j = static_cast<std::ptrdiff_t>(k);
      const double more = lean(value(j - 2), value(j - 1), value(j + 1), value(j + 2));
      to[2 * k] = 0.5 * from[k] - more;
      to[2 * k + 1] = 0.5 * from[k] + more;
    }
  }
  std::vector<double> made(4 * size * size, 0.0);
  const std::size_t width = 2 * size;
  const std::vector<double> nothing(width, 0.0);
  for (std::size_t row = 0; row < size; ++row) {
    const auto line = [&](std::ptrdiff_t k) {
      const std::ptrdiff_t j = static_cast<std::ptrdiff_t>(row) + k;
      return at(j) ? wide.data() + static_cast<std::size_t>(j) * width : nothing.data();
    };
    const double* a = line(-2);
    const double* b = line(-1);
    const double* middle = line(0);
    const double* c = line(1);
    const double* d = line(2);
    double* low = made.data() + 2 * row * width;
    double* high = low + width;
    for (std::size_t k = 0; k < width; ++k) {
      const double more = lean(a[k], b[k], c[k], d[k]);
      low[k] = 0.5 * middle[k] - more;
      high[k] = 0.5 * middle[k] + more;
    }
  }
  return made;
}

void Tile::widen(const CellRange& more) {
  if (is_empty(more)) return;
  if (is_empty(range)) {
    range = more;
    return;
  }
  range = {std::min(range.column0, more.column0), std::max(range.column1, more.column1),
           std::min(range.row0, more.row0), std::max(range.row1, more.row1)};
}

LightCounts::LightCounts(const Canvas& canvas, double most_facet_W)
    : cells_(canvas.cells),
      width_m_(canvas.width_m),
      unit_W_(most_facet_W > 0.0 ? std::ldexp(most_facet_W, -30) : 1.0),
      fine_(static_cast<std::size_t>(canvas.cells) * static_cast<std::size_t>(canvas.cells), 0),
      coarse_(std::size_t{k_frames} * k_coarse * k_coarse, 0) {}

CountedTile LightCounts::counted(Tile& tile, double scale) const {
  CountedTile made;
  if (!is_empty(tile.range)) {
    made.range = tile.range;
    made.cells.resize(static_cast<std::size_t>((tile.range.column1 - tile.range.column0) *
                                               (tile.range.row1 - tile.range.row0)));
    to_counts(tile.cells_W.data(), made.cells.data(), cells_, tile.range,
              static_cast<float>(scale / unit_W_));
  }
  for (const Vec3& point : tile.outside) {
    made.far.push_back(
        {SpotCount::coarse_cell({point.x, point.y}, width_m_), std::llround(point.z / unit_W_)});
  }
  tile.range = {};
  tile.outside.clear();
  return made;
}

void LightCounts::add(const CountedTile& light, bool take_away) {
  add_counts(fine_.data(), light.cells.data(), cells_, light.range, take_away);
  const std::int64_t sign = take_away ? -1 : 1;
  for (const CountedTile::Far& far : light.far) coarse_[far.cell] += sign * far.count;
  coarse_entries_ += sign * static_cast<std::int64_t>(light.far.size());
}

PlaneLight LightCounts::in_watts() const {
  PlaneLight light{
      .cells = cells_, .width_m = width_m_, .watts = {}, .half_watts = {}, .outside = {}};
  light.watts.reserve(fine_.size());
  for (const std::int64_t count : fine_)
    light.watts.push_back(static_cast<double>(count) * unit_W_);
  if (coarse_entries_ == 0) return light;
  double width = width_m_;
  std::size_t next = 0;
  for (int frame = 0; frame < k_frames; ++frame) {
    width *= 2.0;
    for (int row = 0; row < k_coarse; ++row) {
      for (int column = 0; column < k_coarse; ++column, ++next) {
        if (coarse_[next] == 0) continue;
        light.outside.emplace_back(((column + 0.5) / k_coarse - 0.5) * width,
                                   ((row + 0.5) / k_coarse - 0.5) * width,
                                   static_cast<double>(coarse_[next]) * unit_W_);
      }
    }
  }
  return light;
}

}  // namespace optics
