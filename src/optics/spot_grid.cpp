// Counting light in cells and reading figures from the cells.
#include "optics/spot_grid.h"

#include <algorithm>
#include <cmath>

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

/// Share of each cell near the middle one that a disc about the middle covers; by 16 x 16 points.
struct DiscKernel {
  int reach = 0;
  std::vector<double> cover;
  double sum = 0.0;

  DiscKernel(double radius_m, double cell_m) : reach(static_cast<int>(radius_m / cell_m + 0.5)) {
    const double limit = radius_m / cell_m * (radius_m / cell_m);
    for (int row = -reach; row <= reach; ++row) {
      for (int column = -reach; column <= reach; ++column) {
        int inside = 0;
        for (int k = 0; k < 256; ++k) {
          const double x = column + (k % 16 + 0.5) / 16.0 - 0.5;
          const double y = row + (k / 16 + 0.5) / 16.0 - 0.5;
          if (x * x + y * y <= limit) ++inside;
        }
        cover.push_back(inside / 256.0);
        sum += cover.back();
      }
    }
  }
};

struct Cell {
  int column = 0;
  int row = 0;
};

double disc_sum(const std::vector<double>& watts, int cells, const DiscKernel& kernel,
                const Cell& at) {
  const int first = std::max(at.column - kernel.reach, 0);
  const int last = std::min(at.column + kernel.reach, cells - 1);
  const int row0 = at.row - kernel.reach;
  double sum = 0.0;
  for (int r = std::max(row0, 0); r <= std::min(at.row + kernel.reach, cells - 1); ++r) {
    const int offset = (r - row0) * (2 * kernel.reach + 1) + kernel.reach - at.column;
    const double* light = watts.data() + r * cells;
    for (int c = first; c <= last; ++c) {
      sum += kernel.cover[static_cast<std::size_t>(offset + c)] * light[c];
    }
  }
  return sum;
}

/// Rows and columns, both ends included.
struct Window {
  int column0 = 0, column1 = -1, row0 = 0, row1 = -1;
};

/// Where the middle of the best disc can lie, on every `stride`-th row and column: within reach of
/// a cell as bright as the mean over the disc about the greatest cell.
Window around_bright_cells(const std::vector<double>& watts, int cells, const DiscKernel& kernel,
                           int stride) {
  const auto greatest = std::max_element(watts.begin(), watts.end()) - watts.begin();
  const auto count = static_cast<std::ptrdiff_t>(cells);
  const Cell about{static_cast<int>(greatest % count) / stride * stride,
                   static_cast<int>(greatest / count) / stride * stride};
  const double bright = disc_sum(watts, cells, kernel, about) / kernel.sum * (1.0 - 1e-9);
  Window window{cells, -1, cells, -1};
  for (int row = 0; row < cells; ++row) {
    const double* light = watts.data() + row * cells;
    for (int column = 0; column < cells; ++column) {
      if (light[column] < bright) continue;
      window.column0 = std::min(window.column0, column);
      window.column1 = std::max(window.column1, column);
      window.row0 = std::min(window.row0, row);
      window.row1 = row;
    }
  }
  window.column0 = std::max(window.column0 - kernel.reach, 0) / stride * stride;
  window.row0 = std::max(window.row0 - kernel.reach, 0) / stride * stride;
  window.column1 = std::min(window.column1 + kernel.reach, cells - 1);
  window.row1 = std::min(window.row1 + kernel.reach, cells - 1);
  return window;
}

/// The cell about which the disc holds most: among every third of the disc's radius, then among the
/// neighbours of the best.
Cell brightest(const std::vector<double>& watts, int cells, const DiscKernel& kernel) {
  Cell place;
  double best = -1.0;
  const auto look = [&](const Window& in, int stride) {
    for (int row = std::max(in.row0, 0); row <= std::min(in.row1, cells - 1); row += stride) {
      for (int column = std::max(in.column0, 0); column <= std::min(in.column1, cells - 1);
           column += stride) {
        const double sum = disc_sum(watts, cells, kernel, {column, row});
        if (sum <= best) continue;
        best = sum;
        place = {column, row};
      }
    }
  };
  const int stride = std::max(1, kernel.reach / 3);
  look(around_bright_cells(watts, cells, kernel, stride), stride);
  const Cell first = place;
  const int step = stride - 1;
  look({first.column - step, first.column + step, first.row - step, first.row + step}, 1);
  return place;
}

/// Light over radius. A cell of side c at radius r spreads its light over radii with variance
/// c^2/12 whichever way it lies: here evenly from r - c/2 to r + c/2, so the sum up to any radius
/// is smooth. It is kept by its slope: `rise` adds where a cell begins and takes away where it
/// ends.
class RadialLight {
 public:
  RadialLight(double limit_m, double step_m)
      : step_m_(step_m),
        rise_(static_cast<std::size_t>(limit_m / step_m) + 2, 0.0),
        offset_(rise_.size(), 0.0) {}

  void add(double radius, double side, double watts) {
    const double low = std::max(radius - 0.5 * side, 0.0);
    const double high = radius + 0.5 * side;
    if (high >= static_cast<double>(rise_.size() - 1) * step_m_) {
      beyond_.emplace_back(radius, watts);
      return;
    }
    turn(low, watts / (high - low));
    turn(high, -watts / (high - low));
  }

  void sort_beyond() {
    std::sort(beyond_.begin(), beyond_.end(),
              [](const Vec2& a, const Vec2& b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  }

  /// Least radius that holds `wanted` watts.
  [[nodiscard]] double radius_of(double wanted) const {
    double slope = 0.0;
    double offset = 0.0;
    double before = 0.0;
    for (std::size_t k = 0; k < rise_.size(); ++k) {
      slope += rise_[k];
      offset += offset_[k];
      const double radius = static_cast<double>(k) * step_m_;
      const double here = radius * slope - offset;
      if (here >= wanted && here > before) {
        return radius - step_m_ * (here - wanted) / (here - before);
      }
      before = here;
    }
    for (const Vec2& point : beyond_) {
      before += point.y;
      if (before >= wanted) return point.x;
    }
    return beyond_.empty() ? static_cast<double>(rise_.size() - 1) * step_m_ : beyond_.back().x;
  }

 private:
  void turn(double radius, double watts_per_m) {
    const auto k = static_cast<std::size_t>(std::ceil(radius / step_m_));
    rise_[k] += watts_per_m;
    offset_[k] += watts_per_m * radius;
  }

  double step_m_;
  std::vector<double> rise_;
  std::vector<double> offset_;
  std::vector<Vec2> beyond_;  ///< (radius, watts)
};

/// Index of a coordinate in a grid of `cells` over [-width/2, width/2], or -1 outside.
int cell_index(double coordinate, double width_m, int cells) {
  const double place = (coordinate / width_m + 0.5) * cells;
  return place >= 0.0 && place < cells ? static_cast<int>(place) : -1;
}

}  // namespace

double map_width(double wanted_m, double longer_side_m) {
  return wanted_m > 0.0 ? wanted_m : 1.6 * longer_side_m;
}

double peak_flux(const PlaneLight& light, double longer_side_m) {
  const double cell = light.width_m / light.cells;
  const DiscKernel kernel(std::max(0.05 * longer_side_m, 0.75 * cell), cell);
  const double area = kernel.sum * cell * cell;
  const auto sum_at = [&](const std::vector<double>& watts, const Cell& place) {
    return disc_sum(watts, light.cells, kernel, place);
  };
  if (light.half_watts[0].empty()) {
    return sum_at(light.watts, brightest(light.watts, light.cells, kernel)) / area;
  }
  const auto& [one, other] = light.half_watts;
  return (sum_at(one, brightest(other, light.cells, kernel)) +
          sum_at(other, brightest(one, light.cells, kernel))) /
         area;
}

std::array<double, 3> encircled_radii(const PlaneLight& light, const Vec2& centre, double total_W,
                                      const std::array<double, 3>& shares) {
  const double cell = light.width_m / light.cells;
  RadialLight radial(light.width_m, cell / 8.0);
  for (int row = 0; row < light.cells; ++row) {
    for (int column = 0; column < light.cells; ++column) {
      const double watts = light.watts[static_cast<std::size_t>(row * light.cells + column)];
      if (watts == 0.0) continue;
      const double x = (column + 0.5) * cell - 0.5 * light.width_m - centre.x;
      const double y = (row + 0.5) * cell - 0.5 * light.width_m - centre.y;
      const double radius = std::sqrt(x * x + y * y);
      if (radius > 4.0 * cell) {
        // The mean radius of a square cell is that of its middle and c^2 / 24 r.
        radial.add(radius + cell * cell / (24.0 * radius), cell, watts);
        continue;
      }
      for (int k = 0; k < 64; ++k) {
        const double dx = x + ((k % 8 + 0.5) / 8.0 - 0.5) * cell;
        const double dy = y + ((k / 8 + 0.5) / 8.0 - 0.5) * cell;
        radial.add(std::sqrt(dx * dx + dy * dy), cell / 8.0, watts / 64.0);
      }
    }
  }
  for (const Vec3& point : light.outside) {
    const double x = point.x - centre.x;
    const double y = point.y - centre.y;
    radial.add(std::sqrt(x * x + y * y), cell, point.z);
  }
  radial.sort_beyond();
  std::array<double, 3> radii{};
  for (std::size_t k = 0; k < 3; ++k) radii[k] = radial.radius_of(shares[k] * total_W);
  return radii;
}

void SpotCount::add(const Vec2& board, std::int64_t light, std::size_t half) {
  const int column = cell_index(board.x, width_m_, k_fine);
  const int row = cell_index(board.y, width_m_, k_fine);
  if (column >= 0 && row >= 0) {
    counts_[half * k_fine_counts + static_cast<std::size_t>(row * k_fine + column)] += light;
    return;
  }
  counts_[2 * k_fine_counts + coarse_cell(board, width_m_)] += light;
}

std::size_t SpotCount::coarse_cell(const Vec2& board, double fine_width_m) {
  double width = fine_width_m;
  for (int frame = 0;; ++frame) {
    width *= 2.0;
    int column = cell_index(board.x, width, k_coarse);
    int row = cell_index(board.y, width, k_coarse);
    if (frame + 1 == k_frames) {  // beyond the last frame its edge takes the rest
      column = column >= 0 ? column : (board.x < 0.0 ? 0 : k_coarse - 1);
      row = row >= 0 ? row : (board.y < 0.0 ? 0 : k_coarse - 1);
    }
    if (column < 0 || row < 0) continue;
    return static_cast<std::size_t>((frame * k_coarse + row) * k_coarse + column);
  }
}

void SpotCount::add(const SpotCount& other) {
  for (std::size_t k = 0; k < counts_.size(); ++k) counts_[k] += other.counts_[k];
}

PlaneLight SpotCount::in_watts(double watts_per_unit) const {
  PlaneLight light{
      .cells = k_fine, .width_m = width_m_, .watts = {}, .half_watts = {}, .outside = {}};
  light.watts.assign(k_fine_counts, 0.0);
  for (std::size_t half = 0; half < 2; ++half) {
    light.half_watts[half].reserve(k_fine_counts);
    for (std::size_t k = 0; k < k_fine_counts; ++k) {
      const double watts = static_cast<double>(counts_[half * k_fine_counts + k]) * watts_per_unit;
      light.half_watts[half].push_back(watts);
      light.watts[k] += watts;
    }
  }
  double width = width_m_;
  for (int frame = 0; frame < k_frames; ++frame) {
    width *= 2.0;
    for (int k = 0; k < k_coarse * k_coarse; ++k) {
      const std::int64_t one =
          counts_[2 * k_fine_counts + static_cast<std::size_t>(frame * k_coarse * k_coarse + k)];
      if (one == 0) continue;
      light.outside.emplace_back(((k % k_coarse + 0.5) / k_coarse - 0.5) * width,
                                 ((k / k_coarse + 0.5) / k_coarse - 0.5) * width,
                                 static_cast<double>(one) * watts_per_unit);
    }
  }
  return light;
}

}  // namespace optics
