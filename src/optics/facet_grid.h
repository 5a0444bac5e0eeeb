// Facets by place: a uniform grid over the aperture that holds the centres of bounding spheres.
#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include "base/vec.h"
#include "optics/obstacle.h"

namespace optics {

class FacetGrid {
 public:
  FacetGrid() = default;
  /// With `cull` false there is one cell, so that every search finds everything.
  FacetGrid(const std::vector<Sphere>& bounds, bool cull);

  /// Whether the grid still holds after a facet got other bounds.
  [[nodiscard]] bool stays(std::uint32_t facet, const Sphere& bounds) const;

  /// Calls `take(facet)` for every facet whose sphere may touch the rectangle (low, high) of the
  /// aperture plane, until it answers true. Answers whether it did.
  template <class Take>
  bool any_of(const base::Vec2& low, const base::Vec2& high, const Take& take) const {
    const int last_row = row(high.y + reach_);
    const int last_column = column(high.x + reach_);
    for (int r = row(low.y - reach_); r <= last_row; ++r) {
      for (int c = column(low.x - reach_); c <= last_column; ++c) {
        const std::size_t cell = index(c, r);
        for (std::uint32_t k = starts_[cell]; k < starts_[cell + 1]; ++k) {
          if (take(members_[k])) return true;
        }
      }
    }
    return false;
  }

  [[nodiscard]] double top() const { return high_.z; }
  [[nodiscard]] double bottom() const { return low_.z; }
  [[nodiscard]] double diagonal() const { return glm::length(high_ - low_); }

 private:
  [[nodiscard]] int column(double x) const {
    return static_cast<int>(std::clamp((x - low_.x) / cell_, 0.0, columns_ - 1.0));
  }
  [[nodiscard]] int row(double y) const {
    return static_cast<int>(std::clamp((y - low_.y) / cell_, 0.0, rows_ - 1.0));
  }
  [[nodiscard]] std::size_t index(int c, int r) const {
    return static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) +
           static_cast<std::size_t>(c);
  }

  base::Vec3 low_{1e300, 1e300, 1e300};
  base::Vec3 high_{-1e300, -1e300, -1e300};
  double reach_ = 0.0;  ///< greatest radius
  double cell_ = 1.0;
  int columns_ = 1;
  int rows_ = 1;
  std::vector<std::uint32_t> starts_{0, 0};  ///< of each cell in members_, one more at the end
  std::vector<std::uint32_t> members_;
  std::vector<std::uint32_t> cells_;  ///< of each facet
};

}  // namespace optics
