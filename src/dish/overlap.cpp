// Sweeps over the facets from left to right, so that only neighbours are compared.
#include "dish/overlap.h"

#include <algorithm>
#include <numeric>

#include "dish/facts.h"
#include "dish/outline_facts.h"
#include "dish/recipes.h"

namespace dish {
namespace {

using base::Vec2;

constexpr double k_least_overlap_m = 1e-4;

struct Box {
  Vec2 least{0.0, 0.0};
  Vec2 most{0.0, 0.0};
};

Box box_of(const Corners& corners) {
  Box box{corners.front(), corners.front()};
  for (const Vec2& corner : corners) {
    box.least = glm::min(box.least, corner);
    box.most = glm::max(box.most, corner);
  }
  return box;
}

bool apart(const Box& a, const Box& b) {
  return a.most.x < b.least.x || b.most.x < a.least.x || a.most.y < b.least.y ||
         b.most.y < a.least.y;
}

/// A facet's shadow on the aperture plane, in convex pieces.
struct Shadow {
  std::size_t facet = 0;
  Box box;
  std::vector<Corners> pieces;
  std::vector<Box> boxes;
};

Shadow shadow_of(std::size_t index, const Facet& facet, const std::vector<Corners>& pieces,
                 double focal_length_m) {
  const base::Vec3 normal =
      facet.normal ? base::unit(*facet.normal) : prime_focus_normal(facet.centre_m, focal_length_m);
  const base::Mat3 axes = base::frame_of_normal(normal, facet.clocking_rad);
  Shadow shadow{.facet = index, .pieces = pieces};
  Corners all;
  for (Corners& piece : shadow.pieces) {
    for (Vec2& corner : piece)
      corner = Vec2(facet.centre_m) + corner.x * Vec2(axes[0]) + corner.y * Vec2(axes[1]);
    shadow.boxes.push_back(box_of(piece));
    all.push_back(shadow.boxes.back().least);
    all.push_back(shadow.boxes.back().most);
  }
  shadow.box = box_of(all);
  return shadow;
}

std::vector<Shadow> shadows_of(const Dish& dish) {
  std::vector<std::vector<Corners>> pieces;
  for (const FacetType& type : dish.facet_types)
    pieces.push_back(convex_pieces(type.outline, k_arc_points));
  std::vector<Shadow> shadows;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    const FacetType* type = find_facet_type(dish, dish.facets[i].type);
    if (type == nullptr) continue;
    const auto kind = static_cast<std::size_t>(type - dish.facet_types.data());
    shadows.push_back(shadow_of(i, dish.facets[i], pieces[kind], dish.focal_length_m));
  }
  return shadows;
}

bool overlap(const Shadow& a, const Shadow& b) {
  if (apart(a.box, b.box)) return false;
  for (std::size_t i = 0; i < a.pieces.size(); ++i) {
    for (std::size_t j = 0; j < b.pieces.size(); ++j) {
      if (apart(a.boxes[i], b.boxes[j])) continue;
      if (overlap_depth(a.pieces[i], b.pieces[j]) > k_least_overlap_m) return true;
    }
  }
  return false;
}

FacetPair in_order(std::size_t a, std::size_t b) { return {std::min(a, b), std::max(a, b)}; }

}  // namespace

std::vector<FacetPair> coinciding_centres(const Dish& dish, std::size_t most) {
  std::vector<std::size_t> by_x(dish.facets.size());
  std::iota(by_x.begin(), by_x.end(), std::size_t{0});
  const auto centre = [&](std::size_t i) { return dish.facets[i].centre_m; };
  std::stable_sort(by_x.begin(), by_x.end(),
                   [&](std::size_t a, std::size_t b) { return centre(a).x < centre(b).x; });
  std::vector<FacetPair> pairs;
  for (std::size_t i = 0; i < by_x.size(); ++i) {
    for (std::size_t j = i + 1; j < by_x.size(); ++j) {
      if (centre(by_x[j]).x - centre(by_x[i]).x > k_same_place_m) break;
      if (glm::distance(centre(by_x[i]), centre(by_x[j])) > k_same_place_m) continue;
      pairs.push_back(in_order(by_x[i], by_x[j]));
      if (pairs.size() >= most) return pairs;
    }
  }
  std::sort(pairs.begin(), pairs.end());
  return pairs;
}

std::vector<FacetPair> overlapping_facets(const Dish& dish, std::size_t most) {
  std::vector<Shadow> shadows = shadows_of(dish);
  std::stable_sort(shadows.begin(), shadows.end(),
                   [](const Shadow& a, const Shadow& b) { return a.box.least.x < b.box.least.x; });
  std::vector<FacetPair> pairs;
  for (std::size_t i = 0; i < shadows.size(); ++i) {
    for (std::size_t j = i + 1; j < shadows.size(); ++j) {
      if (shadows[j].box.least.x > shadows[i].box.most.x) break;
      if (!overlap(shadows[i], shadows[j])) continue;
      pairs.push_back(in_order(shadows[i].facet, shadows[j].facet));
      if (pairs.size() >= most) return pairs;
    }
  }
  std::sort(pairs.begin(), pairs.end());
  return pairs;
}

}  // namespace dish
