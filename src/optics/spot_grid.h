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
  std::vector<double> watts;  ///< cells * cells, row 0 at the bottom
  /// The light of two independent halves of a trace, which add up to `watts`; empty without noise.
  std::array<std::vector<double>, 2> half_watts;
  std::vector<base::Vec3> outside;  ///< (right, up, watts)
};

/// Width of the square that a map covers: 1.6 times the receiver's longer side unless told.
double map_width(double wanted_m, double longer_side_m);

/// Greatest mean flux over a disc, W/m2, with the cells cut by its edge counted in part. The disc
/// is a tenth as wide as the receiver's longer side, or 1.5 cells where that is more. The greatest
/// of many noisy numbers is too great: where there are two halves, the place is found in the one
/// and read in the other, both ways, so that noise does not raise the peak.
double peak_flux(const PlaneLight& light, double longer_side_m);

/// Radii about `centre` that hold the given shares of `total_W`. Cells are spread over radius by
/// their own size, so that the answer is smooth. Beyond the last light the farthest point is
/// answered.
std::array<double, 3> encircled_radii(const PlaneLight& light, const base::Vec2& centre,
                                      double total_W, const std::array<double, 3>& shares);

/// The same counted in whole numbers while a trace runs, so that the order of adding never
/// matters: the fine grid for each half of the rays, then frames of a coarse grid, each twice as
/// wide as the one before.
class SpotCount {
 public:
  static constexpr int k_fine = 256;
  static constexpr int k_coarse = 32;
  static constexpr int k_frames = 16;
  static constexpr std::size_t k_fine_counts = std::size_t{k_fine} * k_fine;
  static constexpr std::size_t k_counts =
      2 * k_fine_counts + std::size_t{k_frames} * k_coarse * k_coarse;

  SpotCount() = default;
  explicit SpotCount(double width_m) : width_m_(width_m), counts_(k_counts, 0) {}

  /// Index, frame by frame and row by row, of the coarse cell of a point outside the fine grid.
  static std::size_t coarse_cell(const base::Vec2& board, double fine_width_m);

  /// `half` is 0 or 1.
  void add(const base::Vec2& board, std::int64_t light, std::size_t half);
  void add(const SpotCount& other);
  [[nodiscard]] PlaneLight in_watts(double watts_per_unit) const;

  /// Counts of the fine grid for one half of the rays, row by row.
  [[nodiscard]] std::int64_t* fine_counts(std::size_t half) {
    return counts_.data() + half * k_fine_counts;
  }

  /// The counts as they are, for sending from one worker to another; and back from exactly
  /// `k_counts` of them.
  [[nodiscard]] const std::vector<std::int64_t>& counts() const { return counts_; }
  void set_counts(const std::vector<std::int64_t>& counts) {
    BASE_CHECK(counts.size() == k_counts, "counts come from another grid of the same size");
    counts_ = counts;
  }

 private:
  double width_m_ = 0.0;
  std::vector<std::int64_t> counts_;
};

}  // namespace optics
