// Plane polygons by cross products.
#include "dish/polygon.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/check.h"
#include "base/units.h"

namespace dish {
namespace {

using base::Vec2;

double cross(const Vec2& a, const Vec2& b) { return a.x * b.y - a.y * b.x; }

const Vec2& next(const Corners& polygon, std::size_t i) {
  return polygon[i + 1 == polygon.size() ? 0 : i + 1];
}

/// Least overlap of the shadows of both polygons on the outward normals of a's edges.
double least_overlap(const Corners& a, const Corners& b) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < a.size(); ++i) {
    const Vec2 edge = next(a, i) - a[i];
    const double length = glm::length(edge);
    if (!(length > 0.0)) continue;
    const Vec2 outward{edge.y / length, -edge.x / length};
    double nearest = std::numeric_limits<double>::infinity();
    for (const Vec2& corner : b) nearest = std::min(nearest, glm::dot(corner - a[i], outward));
    least = std::min(least, -nearest);
    if (least <= 0.0) return least;
  }
  return least;
}

}  // namespace

double signed_area(const Corners& polygon) {
  double twice = 0.0;
  for (std::size_t i = 1; i + 1 < polygon.size(); ++i)
    twice += cross(polygon[i] - polygon[0], polygon[i + 1] - polygon[0]);
  return 0.5 * twice;
}

Vec2 centroid(const Corners& polygon) {
  const double area = signed_area(polygon);
  CHECK(area != 0.0, "only a polygon with an area has a centre of area");
  Vec2 sum{0.0, 0.0};
  for (std::size_t i = 1; i + 1 < polygon.size(); ++i) {
    const Vec2 a = polygon[i] - polygon[0];
    const Vec2 b = polygon[i + 1] - polygon[0];
    sum += (a + b) * (cross(a, b) / 6.0);
  }
  return polygon[0] + sum / area;
}

bool is_convex(const Corners& polygon) {
  if (polygon.size() < 3 || !(signed_area(polygon) > 0.0)) return false;
  // Every corner turns left, and all turns together make one round: a star turns left as well, but
  // goes around twice.
  double turned = 0.0;
  Vec2 before = polygon[0] - polygon.back();
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 after = next(polygon, i) - polygon[i];
    if (after == Vec2{0.0, 0.0}) continue;
    const double turn = std::atan2(cross(before, after), glm::dot(before, after));
    if (turn < -1e-9 || turn > base::k_pi - 1e-9) return false;
    turned += turn;
    before = after;
  }
  return turned < 3.0 * base::k_pi;
}

bool contains(const Corners& convex, const Vec2& point) {
  if (convex.size() < 3) return false;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    if (cross(next(convex, i) - convex[i], point - convex[i]) < 0.0) return false;
  }
  return true;
}

Corners convex_hull(Corners points) {
  std::sort(points.begin(), points.end(),
            [](const Vec2& a, const Vec2& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return points;

  // Walk right along the lower side, then back along the upper side; drop what does not turn left.
  Corners hull;
  const auto walk = [&hull](auto from, auto to) {
    const std::size_t start = hull.size();
    for (; from != to; ++from) {
      while (hull.size() >= start + 2 &&
             cross(hull.back() - hull[hull.size() - 2], *from - hull.back()) <= 0.0)
        hull.pop_back();
      hull.push_back(*from);
    }
    hull.pop_back();  // it begins the other side
  };
  walk(points.cbegin(), points.cend());
  walk(points.crbegin(), points.crend());
  return hull;
}

double overlap_depth(const Corners& a, const Corners& b) {
  const double by_a = least_overlap(a, b);
  return by_a <= 0.0 ? by_a : std::min(by_a, least_overlap(b, a));
}

}  // namespace dish
