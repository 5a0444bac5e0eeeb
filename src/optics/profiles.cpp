// Linear between cells; circles cut cells as straight lines cut discs.
#include "optics/profiles.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace optics {
namespace {

/// Flux between cell middles; beyond the outermost middles the outermost value.
double flux_at(const FluxMap& map, double column, double row) {
  const double c = std::clamp(column, 0.0, map.columns - 1.0);
  const double r = std::clamp(row, 0.0, map.rows - 1.0);
  const int c0 = std::min(static_cast<int>(c), std::max(map.columns - 2, 0));
  const int r0 = std::min(static_cast<int>(r), std::max(map.rows - 2, 0));
  const int c1 = std::min(c0 + 1, map.columns - 1);
  const int r1 = std::min(r0 + 1, map.rows - 1);
  const double low = map.at(c0, r0) + (c - c0) * (map.at(c1, r0) - map.at(c0, r0));
  const double high = map.at(c0, r1) + (c - c0) * (map.at(c1, r1) - map.at(c0, r1));
  return low + (r - r0) * (high - low);
}

/// Share of a disc of radius a that lies within signed distance d of a line through its middle.
/// Circular segment, closed form.
double share_of_disc(double d, double a) {
  const double t = std::clamp(d / a, -1.0, 1.0);
  return (std::asin(t) + t * std::sqrt(1.0 - t * t)) / base::k_pi + 0.5;
}

}  // namespace

Curve cut_through(const FluxMap& map, Cut direction, const base::Vec2& through) {
  Curve curve;
  if (map.columns < 1 || map.rows < 1) return curve;
  const base::Vec2 cell{map.size_m.x / map.columns, map.size_m.y / map.rows};
  const base::Vec2 corner = map.centre_m - 0.5 * map.size_m;
  const base::Vec2 place = (through - corner) / cell - 0.5;
  const bool right = direction == Cut::along_right;
  const int count = right ? map.columns : map.rows;
  for (int k = 0; k < count; ++k) {
    curve.x.push_back(right ? corner.x + (k + 0.5) * cell.x : corner.y + (k + 0.5) * cell.y);
    curve.y.push_back(right ? flux_at(map, k, place.y) : flux_at(map, place.x, k));
  }
  return curve;
}

Curve encircled_power(const FluxMap& map, const base::Vec2& centre, double plane_W, int points) {
  Curve curve;
  if (map.columns < 1 || map.rows < 1 || !(plane_W > 0.0) || points < 2) return curve;
  const base::Vec2 cell{map.size_m.x / map.columns, map.size_m.y / map.rows};
  const base::Vec2 corner = map.centre_m - 0.5 * map.size_m;
  const base::Vec2 room = 0.5 * map.size_m - glm::abs(centre - map.centre_m);
  const double most = std::max(std::min(room.x, room.y), 0.0);
  const double area = cell.x * cell.y;
  const double disc = std::sqrt(area / base::k_pi);
  const double step = most / (points - 1.0);
  if (!(step > 0.0)) return curve;
  // What lies wholly inside from one point on is added up at the end.
  std::vector<double> partly(static_cast<std::size_t>(points), 0.0);
  std::vector<double> wholly(static_cast<std::size_t>(points) + 1, 0.0);
  for (int row = 0; row < map.rows; ++row) {
    for (int column = 0; column < map.columns; ++column) {
      const base::Vec2 middle = corner + cell * base::Vec2(column + 0.5, row + 0.5);
      const double radius = glm::distance(middle, centre);
      const double cell_W = map.at(column, row) * area;
      const auto first = static_cast<int>(std::max(std::ceil((radius - disc) / step), 0.0));
      int k = first;
      for (; k < points && k * step < radius + disc; ++k) {
        partly[static_cast<std::size_t>(k)] += cell_W * share_of_disc(k * step - radius, disc);
      }
      wholly[static_cast<std::size_t>(std::min(k, points))] += cell_W;
    }
  }
  double inside = 0.0;
  for (int k = 0; k < points; ++k) {
    inside += wholly[static_cast<std::size_t>(k)];
    curve.x.push_back(step * k);
    curve.y.push_back((inside + partly[static_cast<std::size_t>(k)]) / plane_W);
  }
  return curve;
}

}  // namespace optics
