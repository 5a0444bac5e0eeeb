// Light on the receiver's plane in square cells, near the receiver finely and far off coarsely, and
// what is read from it: peak, encircled radii, the map.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/check.h"
#include "base/vec.h"
#include "optics/trace_result.h"

namespace optics {

/// Watts on the plane: a fine square grid about the receiver's centre and, for what lands outside
/// it, points or small cells that carry watts.
struct PlaneLight {
  int cells = 0;  ///< along each side of the square
  double width_m = 0.0;
  std::vector<double> watts;        ///< cells * cells, row 0 at the bottom
  std::vector<base::Vec3> outside;  ///< (right, up, watts)
};

/// Width of the square that a map covers: 1.6 times the receiver's longer side unless told.
double map_width(double wanted_m, double longer_side_m);

/// Greatest mean flux over a disc, W/m2, with the cells cut by its edge counted in part. The disc's
/// radius is 2.5 % of the receiver's longer side, or 0.75 of a cell where that is more: one cell of
/// a counted map would be read too high by its noise.
double peak_flux(const PlaneLight& light, double longer_side_m);

/// Radii about `centre` that hold the given shares of `total_W`. Cells are spread over radius by
/// their own size, so that the answer is smooth. Beyond the last light the farthest point is
/// answered.
std::array<double, 3> encircled_radii(const PlaneLight& light, const base::Vec2& centre,
                                      double total_W, const std::array<double, 3>& shares);

/// The same counted in whole numbers while a trace runs, so that the order of adding never
/// matters: the fine grid, then frames of a coarse grid, each twice as wide as the one before.
class SpotCount {
 public:
  static constexpr int k_fine = 256;
  static constexpr int k_coarse = 32;
  static constexpr int k_frames = 16;

  SpotCount() = default;
  explicit SpotCount(double width_m);

  void add(const base::Vec2& board, std::int64_t light);
  void add(const SpotCount& other);
  [[nodiscard]] PlaneLight in_watts(double watts_per_unit) const;

  static constexpr std::size_t k_fine_counts = std::size_t{k_fine} * k_fine;
  static constexpr std::size_t k_counts =
      k_fine_counts + std::size_t{k_frames} * k_coarse * k_coarse;
  /// The counts as they are, for sending from one worker to another: the fine grid's cells, then
  /// all coarse ones; and back from exactly `k_counts` of them.
  [[nodiscard]] std::vector<std::int64_t> counts() const {
    std::vector<std::int64_t> all = fine_;
    all.insert(all.end(), coarse_.begin(), coarse_.end());
    return all;
  }
  void set_counts(const std::vector<std::int64_t>& counts) {
    BASE_CHECK(counts.size() == k_counts, "counts come from another grid of the same size");
    const auto middle = counts.begin() + static_cast<std::ptrdiff_t>(k_fine_counts);
    fine_.assign(counts.begin(), middle);
    coarse_.assign(middle, counts.end());
  }

 private:
  double width_m_ = 0.0;
  std::vector<std::int64_t> fine_;
  std::vector<std::int64_t> coarse_;  ///< k_frames grids
};

}  // namespace optics
