// Sorting facets into the cells of the grid.
#include "optics/facet_grid.h"

namespace optics {

FacetGrid::FacetGrid(const std::vector<Sphere>& bounds, bool cull) {
  for (const Sphere& s : bounds) {
    low_ = glm::min(low_, s.centre - s.radius);
    high_ = glm::max(high_, s.centre + s.radius);
    reach_ = std::max(reach_, s.radius);
  }
  if (bounds.empty()) return;
  const double width = std::max(high_.x - low_.x, high_.y - low_.y);
  cell_ = cull ? std::max({2.0 * reach_, width / 256.0, 1e-9}) : 2.0 * width + 1.0;
  columns_ = 1 + static_cast<int>((high_.x - low_.x) / cell_);
  rows_ = 1 + static_cast<int>((high_.y - low_.y) / cell_);
  // Count, then place: members of a cell keep rising order.
  starts_.assign(index(0, rows_) + 1, 0);
  for (const Sphere& s : bounds) ++starts_[index(column(s.centre.x), row(s.centre.y)) + 1];
  for (std::size_t k = 1; k < starts_.size(); ++k) starts_[k] += starts_[k - 1];
  std::vector<std::uint32_t> next(starts_.begin(), starts_.end() - 1);
  members_.resize(bounds.size());
  cells_.resize(bounds.size());
  for (std::size_t k = 0; k < bounds.size(); ++k) {
    const base::Vec3& c = bounds[k].centre;
    const std::size_t cell = index(column(c.x), row(c.y));
    cells_[k] = static_cast<std::uint32_t>(cell);
    members_[next[cell]++] = static_cast<std::uint32_t>(k);
  }
}

bool FacetGrid::stays(std::uint32_t facet, const Sphere& bounds) const {
  const base::Vec3& c = bounds.centre;
  const base::Vec3 low = c - bounds.radius;
  const base::Vec3 high = c + bounds.radius;
  return bounds.radius <= reach_ && index(column(c.x), row(c.y)) == cells_[facet] &&
         low.z >= low_.z && high.z <= high_.z;
}

}  // namespace optics
