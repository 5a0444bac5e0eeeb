// Quadrature over polygons, rings and sectors.
#include "optics/outline_points.h"

#include <array>
#include <cmath>

#include "base/check.h"
#include "base/elementary.h"

namespace optics {
namespace {

using base::Vec2;

struct Bary {
  double a, b, c, weight;
};

/// (155 -+ sqrt 15) / 1200 and (6 -+ sqrt 15) / 21.
constexpr std::array<Bary, 7> k_triangle{
    {{1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0, 0.225},
     {0.797426985353087, 0.101286507323456, 0.101286507323456, 0.125939180544827},
     {0.101286507323456, 0.797426985353087, 0.101286507323456, 0.125939180544827},
     {0.101286507323456, 0.101286507323456, 0.797426985353087, 0.125939180544827},
     {0.059715871789770, 0.470142064105115, 0.470142064105115, 0.132394152788506},
     {0.470142064105115, 0.059715871789770, 0.470142064105115, 0.132394152788506},
     {0.470142064105115, 0.470142064105115, 0.059715871789770, 0.132394152788506}}};

struct Node {
  double at;  ///< within -1..1
  double weight;
};
constexpr std::array<Node, 3> k_gauss3{{{-0.774596669241483, 0.555555555555556},
                                        {0.0, 0.888888888888889},
                                        {0.774596669241483, 0.555555555555556}}};
constexpr std::array<Node, 6> k_gauss6{{{-0.932469514203152, 0.171324492379170},
                                        {-0.661209386466265, 0.360761573048139},
                                        {-0.238619186083197, 0.467913934572691},
                                        {0.238619186083197, 0.467913934572691},
                                        {0.661209386466265, 0.360761573048139},
                                        {0.932469514203152, 0.171324492379170}}};

std::vector<OutlinePoint> polygon_points(const Edge& edge) {
  Vec2 middle{0.0, 0.0};
  for (const Vec2& corner : edge.corners)
    middle += corner / static_cast<double>(edge.corners.size());
  std::vector<OutlinePoint> points;
  for (std::size_t k = 0; k < edge.corners.size(); ++k) {
    const Vec2& from = edge.corners[k];
    const Vec2& to = edge.corners[(k + 1) % edge.corners.size()];
    const Vec2 a = from - middle;
    const Vec2 b = to - middle;
    const double share = 0.5 * (a.x * b.y - a.y * b.x) / edge.area_m2;
    for (const Bary& at : k_triangle) {
      points.push_back({at.a * middle + at.b * from + at.c * to, at.weight * share});
    }
  }
  return points;
}

std::vector<OutlinePoint> ring_points(const Edge& edge) {
  std::vector<OutlinePoint> points;
  const double inner2 = edge.inner_radius_m * edge.inner_radius_m;
  const double outer2 = edge.outer_radius_m * edge.outer_radius_m;
  const auto add = [&](double turns, double share) {
    const auto [s, c] = base::sincos_turns(turns);
    for (const Node& ring : k_gauss3) {
      const double r = std::sqrt(0.5 * (inner2 + outer2) + 0.5 * ring.at * (outer2 - inner2));
      points.push_back({edge.arc_centre + r * Vec2(c, s), 0.5 * ring.weight * share});
    }
  };
  if (edge.opening_turns >= 1.0) {
    constexpr int k_ways = 8;
    for (int way = 0; way < k_ways; ++way) add((way + 0.5) / k_ways, 1.0 / k_ways);
  } else {
    for (const Node& way : k_gauss6) add(0.5 * edge.opening_turns * way.at, 0.5 * way.weight);
  }
  return points;
}

}  // namespace

std::vector<OutlinePoint> outline_points(const Edge& edge) {
  BASE_CHECK(edge.area_m2 > 0.0, "an outline in use has an area");
  return edge.kind == Edge::Kind::polygon ? polygon_points(edge) : ring_points(edge);
}

}  // namespace optics
