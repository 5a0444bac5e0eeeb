// Percentiles of overlapping windows by histograms of tiles.
#include "photo/local_white.h"

#include <algorithm>
#include <array>

namespace photo {
namespace {

using Histogram = std::array<std::uint32_t, 256>;

struct TileGrid {
  int columns = 0;
  int rows = 0;
  int tile_px = 0;
  std::vector<Histogram> tiles;
};

TileGrid histograms(const std::vector<std::uint8_t>& codes, int width, int height, int tile_px) {
  TileGrid grid{.columns = (width + tile_px - 1) / tile_px,
                .rows = (height + tile_px - 1) / tile_px,
                .tile_px = tile_px};
  grid.tiles.assign(static_cast<std::size_t>(grid.columns * grid.rows), Histogram{});
  for (int y = 0; y < height; ++y) {
    const std::uint8_t* row = codes.data() + static_cast<std::size_t>(y) * width;
    for (int column = 0; column < grid.columns; ++column) {
      Histogram& tile = grid.tiles[static_cast<std::size_t>((y / tile_px) * grid.columns + column)];
      const int end = std::min(width, (column + 1) * tile_px);
      for (int x = column * tile_px; x < end; ++x) ++tile[row[x]];
    }
  }
  return grid;
}

int percentile(const Histogram& histogram, int percent) {
  std::uint64_t total = 0;
  for (const std::uint32_t count : histogram) total += count;
  const std::uint64_t below = total * static_cast<std::uint64_t>(percent) / 100;
  std::uint64_t sum = 0;
  for (int code = 0; code < 256; ++code) {
    sum += histogram[static_cast<std::size_t>(code)];
    if (sum > below) return code;
  }
  return 255;
}

/// White of every window: tiles summed down the columns, then slid along the rows.
std::vector<int> whites(const TileGrid& grid, const WhiteScale& scale) {
  std::vector<int> white(grid.tiles.size());
  std::vector<Histogram> column(static_cast<std::size_t>(grid.columns));
  const auto tile = [&](int row, int col) -> const Histogram& {
    return grid.tiles[static_cast<std::size_t>(row * grid.columns + col)];
  };
  const auto add = [](Histogram& to, const Histogram& from, std::uint32_t sign) {
    for (std::size_t k = 0; k < 256; ++k) to[k] += sign * from[k];
  };
  for (int row = 0; row < grid.rows; ++row) {
    const int first = std::max(0, row - scale.reach);
    const int last = std::min(grid.rows - 1, row + scale.reach);
    for (int col = 0; col < grid.columns; ++col) {
      Histogram& sum = column[static_cast<std::size_t>(col)];
      sum = Histogram{};
      for (int k = first; k <= last; ++k) add(sum, tile(k, col), 1);
    }
    Histogram window{};
    for (int col = -scale.reach; col < grid.columns; ++col) {
      const int enters = col + scale.reach;
      const int leaves = col - scale.reach - 1;
      if (enters < grid.columns) add(window, column[static_cast<std::size_t>(enters)], 1);
      if (leaves >= 0) add(window, column[static_cast<std::size_t>(leaves)], ~0u);
      if (col >= 0) {
        white[static_cast<std::size_t>(row * grid.columns + col)] =
            percentile(window, scale.percent);
      }
    }
  }
  return white;
}

/// Place of a pixel between the middles of tiles, in 256ths.
struct Between {
  int first = 0;
  int second = 0;
  int share = 0;
};

Between between(int pixel, int tile_px, int tiles) {
  const int place = ((2 * pixel + 1) * 128) / tile_px - 128;  // in 256ths of a tile
  const int first = place < 0 ? -1 : place / 256;
  return {std::clamp(first, 0, tiles - 1), std::clamp(first + 1, 0, tiles - 1),
          place < 0 ? 0 : place % 256};
}

}  // namespace

std::vector<std::uint8_t> dark_pixels(const std::vector<std::uint8_t>& codes, int width, int height,
                                      const WhiteScale& scale) {
  const TileGrid grid = histograms(codes, width, height, scale.tile_px);
  const std::vector<int> white = whites(grid, scale);
  std::vector<Between> across(static_cast<std::size_t>(width));
  for (int x = 0; x < width; ++x) {
    across[static_cast<std::size_t>(x)] = between(x, scale.tile_px, grid.columns);
  }
  std::vector<std::uint8_t> dark(codes.size());
  std::vector<int> line(static_cast<std::size_t>(grid.columns));
  for (int y = 0; y < height; ++y) {
    const Between down = between(y, scale.tile_px, grid.rows);
    for (int k = 0; k < grid.columns; ++k) {
      const auto at = [&](int row) {
        return white[static_cast<std::size_t>(row * grid.columns + k)];
      };
      line[static_cast<std::size_t>(k)] =
          at(down.first) * (256 - down.share) + at(down.second) * down.share;
    }
    const std::size_t row = static_cast<std::size_t>(y) * static_cast<std::size_t>(width);
    for (std::size_t x = 0; x < across.size(); ++x) {
      const Between& place = across[x];
      const int level = (line[static_cast<std::size_t>(place.first)] * (256 - place.share) +
                         line[static_cast<std::size_t>(place.second)] * place.share) >>
                        8;
      // 189 / 256 is 74 %.
      dark[row + x] = codes[row + x] * 65536 < level * 189 ? 1 : 0;
    }
  }
  return dark;
}

}  // namespace photo
