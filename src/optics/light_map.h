// The square map that the quick evaluation lays its light on, in whole numbers,
// so that taking a facet's light away leaves exactly what was there before it came.
#pragma once

#include <cstdint>
#include <vector>

#include "base/vec.h"
#include "optics/scene.h"
#include "optics/splat_rows.h"
#include "optics/spot_grid.h"

namespace optics {

struct Canvas {
  int cells = 0;  ///< along a side, a multiple of four
  double width_m = 0.0;
  /// What each cell's light counts for in the light within the receiver's edge.
  /// Cells cut by it count by the quadratic through the cells around them,
  /// which gives those a little too.
  std::vector<float> weights;

  [[nodiscard]] double cell_m() const { return width_m / cells; }
};

Canvas make_canvas(const SceneReceiver& receiver, int cells, double width_m);

/// Twice as many cells a side: halves of each cell's mean, by the quartic through the means of five
/// cells in a row, so that sums stay. For light that is smooth over a cell (a standard deviation of
/// two and a half cells or more keeps the error below 1e-4 of the peak).
std::vector<double> in_half_cells(const std::vector<double>& cells, int count);

/// One facet's light while it is gathered.
struct Tile {
  std::vector<float> cells_W;       ///< zero outside `range`
  CellRange range;                  ///< of all that was laid; empty at first
  std::vector<base::Vec3> outside;  ///< (right, up, W) beyond the map

  explicit Tile(const Canvas& canvas)
      : cells_W(static_cast<std::size_t>(canvas.cells) * static_cast<std::size_t>(canvas.cells)) {}
  void widen(const CellRange& more);
};

/// A tile in units: what a facet adds to the map.
struct CountedTile {
  CellRange range;
  std::vector<std::int32_t> cells;  ///< of the range, row by row
  /// Light beyond the map: in which coarse cell, and how much.
  struct Far {
    std::size_t cell = 0;
    std::int64_t count = 0;
  };
  std::vector<Far> far;
};

/// The light of all facets, counted in units.
class LightCounts {
 public:
  LightCounts() = default;
  /// `most_facet_W`: no facet sends more. A unit is 2^-30 of it.
  LightCounts(const Canvas& canvas, double most_facet_W);

  /// A tile's light, each cell times `scale`; the tile becomes empty.
  [[nodiscard]] CountedTile counted(Tile& tile, double scale) const;
  /// Adds light, or takes it away.
  void add(const CountedTile& light, bool take_away);

  [[nodiscard]] PlaneLight in_watts() const;

 private:
  static constexpr int k_coarse = SpotCount::k_coarse;
  static constexpr int k_frames = SpotCount::k_frames;

  int cells_ = 0;
  double width_m_ = 0.0;
  double unit_W_ = 1.0;
  std::vector<std::int64_t> fine_;
  std::vector<std::int64_t> coarse_;
  std::int64_t coarse_entries_ = 0;  ///< points that make up the coarse frames
};

}  // namespace optics
