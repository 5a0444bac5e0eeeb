// From metres to cells and back.
#include "optics/splat.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "optics/ray_draw.h"

namespace optics {
namespace {

using base::Vec2;

/// Light narrower than this share of a cell's side squared falls between the cells' middles.
constexpr double k_least_variance = 0.2;

Spread widened(Spread spread, const Canvas& canvas) {
  spread.add(cell_spread(canvas));
  const double cell = canvas.cell_m();
  const double lacking = k_least_variance * cell * cell - spread.least();
  if (lacking > 0.0) {
    spread.xx += lacking;
    spread.yy += lacking;
  }
  return spread;
}

/// First and one past the last cell whose middle may lie within `reach` cells of a place.
void bounded(double place, double reach, int& first, int& last) {
  first = static_cast<int>(std::floor(std::clamp(place - reach, -1e6, 1e6)));
  last = static_cast<int>(std::ceil(std::clamp(place + reach, -1e6, 1e6))) + 1;
}

void clip(const SplatEdge& edge, double cell, RowSplat& rows) {
  // Soft over the width of a cell across the edge.
  const double width = cell * (std::abs(edge.outward.x) + std::abs(edge.outward.y));
  rows.is_clipped = true;
  rows.keep = static_cast<float>(0.5 + edge.distance_m / width);
  rows.keep_x = static_cast<float>(-edge.outward.x * cell / width);
  rows.keep_y = static_cast<float>(-edge.outward.y * cell / width);
}

}  // namespace

Spread cell_spread(const Canvas& canvas) {
  const double variance = canvas.cell_m() * canvas.cell_m() / 12.0;
  return {variance, 0.0, variance};
}

SplatMoments moments_of(const Splat& splat) {
  SplatMoments made{splat.centre, splat.spread};
  if (!splat.edge) return made;
  const Vec2& n = splat.edge->outward;
  const double deviation = std::sqrt(splat.spread.along(n));
  if (!(deviation > 0.0)) return made;
  // A normal variable below h has mean -m and variance 1 - h m - m^2, m = phi(h) / Phi(h).
  const double h = splat.edge->distance_m / deviation;
  if (h > 8.0 || h < -8.0) return made;
  const double m =
      std::exp(-0.5 * h * h) / std::sqrt(2.0 * base::k_pi) / (0.5 * std::erfc(-h * std::sqrt(0.5)));
  const Vec2 way = Vec2(splat.spread.xx * n.x + splat.spread.xy * n.y,
                        splat.spread.xy * n.x + splat.spread.yy * n.y) /
                   deviation;
  made.centre -= m * way;
  made.spread.add_square(way, -(h * m + m * m));
  return made;
}

double SplatLayer::share_cut_off(const Splat& splat) const {
  if (!splat.edge) return 0.0;
  const double deviation = std::sqrt(widened(splat.spread, canvas_).along(splat.edge->outward));
  const double share = profile_.share_beyond(splat.edge->distance_m / deviation);
  return std::clamp(share, 0.0, 1.0);
}

void SplatLayer::lay(const Splat& splat) {
  const double cell = canvas_.cell_m();
  Splat wide = splat;
  wide.spread = widened(splat.spread, canvas_);
  const double determinant = wide.spread.determinant();
  const double per_cell2 = cell * cell / determinant;
  const double kept_W = splat.watts * (1.0 - share_cut_off(splat));
  const Vec2 place = splat.centre / cell + Vec2(0.5 * canvas_.cells - 0.5);
  RowSplat rows{.middle_column = static_cast<float>(place.x),
                .middle_row = static_cast<float>(place.y),
                .a = static_cast<float>(wide.spread.yy * per_cell2),
                .b = static_cast<float>(-wide.spread.xy * per_cell2),
                .c = static_cast<float>(wide.spread.xx * per_cell2),
                .weight = static_cast<float>(splat.watts * cell * cell / std::sqrt(determinant)),
                .most = static_cast<float>(profile_.reach * profile_.reach),
                .density = profile_.density.data(),
                .steps_per_unit = profile_.steps_per_unit,
                .last_step = static_cast<float>(ConeTable::k_steps + 2)};
  if (splat.edge) clip(*splat.edge, cell, rows);
  CellRange box;
  bounded(place.x, profile_.reach * std::sqrt(wide.spread.xx) / cell, box.column0, box.column1);
  bounded(place.y, profile_.reach * std::sqrt(wide.spread.yy) / cell, box.row0, box.row1);
  const CellRange kept{std::clamp(box.column0, 0, canvas_.cells) & ~3,
                       (std::clamp(box.column1, 0, canvas_.cells) + 3) & ~3,
                       std::clamp(box.row0, 0, canvas_.cells),
                       std::clamp(box.row1, 0, canvas_.cells)};
  const double laid_W = kept.row0 < kept.row1 && kept.column0 < kept.column1
                            ? add_splat_rows(tile_.cells_W.data(), canvas_.cells, kept, rows)
                            : 0.0;
  tile_.widen(kept);
  const bool is_within = box.column0 >= 0 && box.column1 <= canvas_.cells && box.row0 >= 0 &&
                         box.row1 <= canvas_.cells;
  if (is_within) {
    meant_W_ += kept_W;
    laid_W_ += laid_W;
  } else {
    cut_.push_back({wide, kept_W, laid_W});
  }
}

double SplatLayer::finish() {
  const double factor = scale();
  for (const Cut& cut : cut_) {
    const double missing_W = cut.kept_W - cut.laid_W * factor;
    if (missing_W > 1e-12 * cut.kept_W) add_outside(cut, missing_W);
  }
  const CellRange& range = tile_.range;
  double inside_W =
      factor * weighted_sum(tile_.cells_W.data(), canvas_.weights.data(), canvas_.cells, range);
  for (const base::Vec3& point : tile_.outside) {
    if (is_on_receiver(receiver_, {point.x, point.y})) inside_W += point.z;
  }
  return inside_W;
}

void SplatLayer::add_outside(const Cut& cut, double missing_W) {
  // Points of equal power: the square root of the spread (Cholesky) times the profile's points.
  const Splat& splat = cut.splat;
  const double lx = std::sqrt(splat.spread.xx);
  const double ly = splat.spread.xy / lx;
  const double lyy = std::sqrt(std::max(splat.spread.yy - ly * ly, 0.0));
  const double half = 0.5 * canvas_.width_m;
  const std::size_t first = tile_.outside.size();
  for (std::size_t k = 0; k < ConeTable::k_points; ++k) {
    const Vec2 unit = profile_.radius(k) * point_directions()[k];
    const Vec2 way{lx * unit.x, ly * unit.x + lyy * unit.y};
    const Vec2 point = splat.centre + way;
    if (std::abs(point.x) <= half && std::abs(point.y) <= half) continue;
    if (splat.edge && glm::dot(way, splat.edge->outward) > splat.edge->distance_m) continue;
    tile_.outside.emplace_back(point.x, point.y, 1.0);
  }
  if (tile_.outside.size() == first) {
    // Only the thin tail leaves the map: it goes to where the ellipse sticks out farthest.
    const double sign_x = splat.centre.x < 0.0 ? -1.0 : 1.0;
    const double sign_y = splat.centre.y < 0.0 ? -1.0 : 1.0;
    tile_.outside.emplace_back(sign_x * std::max(1.0001 * half, std::abs(splat.centre.x)),
                               sign_y * std::max(1.0001 * half, std::abs(splat.centre.y)), 1.0);
  }
  const double each = missing_W / static_cast<double>(tile_.outside.size() - first);
  for (std::size_t k = first; k < tile_.outside.size(); ++k) tile_.outside[k].z = each;
}

}  // namespace optics
