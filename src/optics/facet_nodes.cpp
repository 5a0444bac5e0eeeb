// Cells of polygons and rings with closed-form moments.
#include "optics/facet_nodes.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/units.h"

namespace optics {
namespace {

using base::Vec2;

/// A triangle's covariance is (1/12) sum (corner - centroid)(corner - centroid)'.
FacetNode triangle_node(const Vec2& a, const Vec2& b, const Vec2& c, double whole_area) {
  const Vec2 middle = (a + b + c) / 3.0;
  FacetNode node{.uv = middle,
                 .share = 0.5 * base::cross(b - a, c - a) / whole_area,
                 .along = b - a,
                 .across = c - a,
                 .is_triangle = true};
  for (const Vec2& corner : {a, b, c}) {
    const Vec2 d = corner - middle;
    node.uu += d.x * d.x / 12.0;
    node.uv_cross += d.x * d.y / 12.0;
    node.vv += d.y * d.y / 12.0;
  }
  return node;
}

/// A triangle cut into n^2 equal ones, rows from its first corner.
void add_triangles(const Vec2& corner, const Vec2& one, const Vec2& other, int n, double whole_area,
                   std::vector<FacetNode>& nodes) {
  const auto at = [&](int i, int j) {
    return corner + (static_cast<double>(i) / n) * (one - corner) +
           (static_cast<double>(j) / n) * (other - corner);
  };
  for (int i = 0; i < n; ++i) {
    for (int j = 0; i + j < n; ++j) {
      nodes.push_back(triangle_node(at(i, j), at(i + 1, j), at(i, j + 1), whole_area));
      if (i + j + 1 >= n) continue;
      nodes.push_back(triangle_node(at(i + 1, j), at(i + 1, j + 1), at(i, j + 1), whole_area));
    }
  }
}

/// A parallelogram cut into n times m equal ones.
void add_parallelograms(const Vec2& corner, const Vec2& along, const Vec2& across, int n, int m,
                        double share, std::vector<FacetNode>& nodes) {
  const Vec2 a = along / static_cast<double>(n);
  const Vec2 b = across / static_cast<double>(m);
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < m; ++j) {
      nodes.push_back({.uv = corner + (i + 0.5) * a + (j + 0.5) * b,
                       .share = share / (n * m),
                       .uu = (a.x * a.x + b.x * b.x) / 12.0,
                       .uv_cross = (a.x * a.y + b.x * b.y) / 12.0,
                       .vv = (a.y * a.y + b.y * b.y) / 12.0,
                       .along = a,
                       .across = b});
    }
  }
}

int rows_for(double wanted) {
  return std::max(1, static_cast<int>(std::ceil(std::sqrt(wanted) - 1e-9)));
}

void add_parallelogram(const Edge& edge, int wanted, std::vector<FacetNode>& nodes) {
  const Vec2 along = edge.corners[1] - edge.corners[0];
  const Vec2 across = edge.corners[3] - edge.corners[0];
  const double ratio = std::sqrt(glm::dot(along, along) / glm::dot(across, across));
  add_parallelograms(edge.corners[0], along, across, rows_for(wanted * ratio),
                     rows_for(wanted / ratio), 1.0, nodes);
}

/// A hexagon of three parallelograms that meet in its middle, as the regular one is.
bool is_of_three_parallelograms(const Edge& edge, const Vec2& middle) {
  if (edge.corners.size() != 6) return false;
  const double tolerance = 1e-9 * edge.bounding_radius_m;
  for (std::size_t k = 0; k < 6; k += 2) {
    const Vec2 gap = edge.corners[k] + edge.corners[(k + 2) % 6] - middle - edge.corners[k + 1];
    if (std::abs(gap.x) > tolerance || std::abs(gap.y) > tolerance) return false;
  }
  return true;
}

/// All of a polygon: its triangles about one point, by the theorem of parallel axes.
FacetNode whole_polygon(const Edge& edge, const Vec2& middle) {
  FacetNode whole;
  std::vector<FacetNode> parts;
  const std::size_t count = edge.corners.size();
  for (std::size_t k = 0; k < count; ++k) {
    parts.push_back(
        triangle_node(middle, edge.corners[k], edge.corners[(k + 1) % count], edge.area_m2));
    whole.share += parts.back().share;
    whole.uv += parts.back().share * parts.back().uv;
  }
  for (const FacetNode& part : parts) {
    const Vec2 d = part.uv - whole.uv;
    whole.uu += part.share * (part.uu + d.x * d.x);
    whole.uv_cross += part.share * (part.uv_cross + d.x * d.y);
    whole.vv += part.share * (part.vv + d.y * d.y);
  }
  return whole;
}

/// Moments of a patch of a ring between radii, `half` radians to both sides of `angle`.
FacetNode patch_node(const Edge& edge, double inner, double outer, double angle, double half) {
  const double ring = outer * outer - inner * inner;
  const double turns = half / (2.0 * base::k_pi);
  const double mean = 2.0 / 3.0 * (outer * outer * outer - inner * inner * inner) / ring *
                      (base::sincos_turns(turns).sin / half);
  const double square = 0.5 * (inner * inner + outer * outer);
  const double lean = base::sincos_turns(2.0 * turns).sin / (2.0 * half);
  const double radial = 0.5 * square * (1.0 + lean) - mean * mean;
  const double across = 0.5 * square * (1.0 - lean);
  const auto [s, c] = base::sincos_turns(angle / (2.0 * base::k_pi));
  return {.uv = edge.arc_centre + Vec2(mean * c, mean * s),
          .share = half * ring / edge.area_m2,
          .uu = radial * c * c + across * s * s,
          .uv_cross = (radial - across) * c * s,
          .vv = radial * s * s + across * c * c,
          .along = (outer - inner) * Vec2(c, s),
          .across = 2.0 * half * mean * Vec2(-s, c)};
}

void add_patches(const Edge& edge, int wanted, std::vector<FacetNode>& nodes) {
  const double opening = 2.0 * base::k_pi * std::min(edge.opening_turns, 1.0);
  const double depth = edge.outer_radius_m - edge.inner_radius_m;
  const double side = std::sqrt(edge.area_m2 / wanted);
  const int rings = wanted == 1 ? 1 : std::max(1, static_cast<int>(std::lround(depth / side)));
  for (int ring = 0; ring < rings; ++ring) {
    const double inner = edge.inner_radius_m + depth * ring / rings;
    const double outer = edge.inner_radius_m + depth * (ring + 1) / rings;
    const double arc = 0.5 * (inner + outer) * opening;
    const int least = opening > 6.0 && wanted > 1 ? 3 : 1;
    const int count = wanted == 1 ? 1 : std::max(least, static_cast<int>(std::lround(arc / side)));
    const double half = 0.5 * opening / count;
    for (int k = 0; k < count; ++k) {
      nodes.push_back(patch_node(edge, inner, outer, (2 * k + 1) * half - 0.5 * opening, half));
    }
  }
}

}  // namespace

std::vector<FacetNode> facet_nodes(const Edge& edge, int wanted) {
  std::vector<FacetNode> nodes;
  if (edge.kind == Edge::Kind::ring) {
    add_patches(edge, wanted, nodes);
    return nodes;
  }
  const std::size_t count = edge.corners.size();
  if (is_parallelogram(edge)) {
    add_parallelogram(edge, wanted, nodes);
    return nodes;
  }
  Vec2 middle{0.0, 0.0};
  for (const Vec2& corner : edge.corners) middle += corner / static_cast<double>(count);
  if (wanted <= 1) {
    nodes.push_back(whole_polygon(edge, middle));
    return nodes;
  }
  if (is_of_three_parallelograms(edge, middle)) {
    const int n = rows_for(wanted / 3.0);
    for (std::size_t k = 0; k < 6; k += 2) {
      add_parallelograms(middle, edge.corners[k] - middle, edge.corners[(k + 2) % 6] - middle, n, n,
                         1.0 / 3.0, nodes);
    }
    return nodes;
  }
  const int n = rows_for(wanted / static_cast<double>(count));
  for (std::size_t k = 0; k < count; ++k) {
    add_triangles(middle, edge.corners[k], edge.corners[(k + 1) % count], n, edge.area_m2, nodes);
  }
  return nodes;
}

std::array<FacetNode, 4> quarters(const FacetNode& node) {
  FacetNode quarter = node;
  quarter.share *= 0.25;
  quarter.uu *= 0.25;
  quarter.uv_cross *= 0.25;
  quarter.vv *= 0.25;
  quarter.along *= 0.5;
  quarter.across *= 0.5;
  std::array<FacetNode, 4> made;
  made.fill(quarter);
  if (node.is_triangle) {
    // Three at the corners; the one in the middle is turned about.
    const Vec2 first = (quarter.along + quarter.across) / 3.0;
    made[0].uv -= first;
    made[1].uv += quarter.along - first;
    made[2].uv += quarter.across - first;
    made[3].along = -quarter.along;
    made[3].across = -quarter.across;
    return made;
  }
  const Vec2 diagonal = 0.5 * (quarter.along + quarter.across);
  const Vec2 other = 0.5 * (quarter.along - quarter.across);
  made[0].uv -= diagonal;
  made[1].uv += other;
  made[2].uv -= other;
  made[3].uv += diagonal;
  return made;
}

double radius_of(const FacetNode& node) {
  if (!node.is_triangle) {
    return 0.5 *
           std::max(glm::length(node.along + node.across), glm::length(node.along - node.across));
  }
  const Vec2 first = (node.along + node.across) / 3.0;
  return std::max(
      {glm::length(first), glm::length(node.along - first), glm::length(node.across - first)});
}

}  // namespace optics
