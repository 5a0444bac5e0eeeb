// Sums and hulls over all facets.
#include "dish/facts.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/units.h"
#include "dish/outline_facts.h"
#include "dish/recipes.h"

namespace dish {
namespace {

using base::Vec2;
using base::Vec3;

/// What each type's outline gives, worked out once and not once for each facet.
struct TypeShape {
  const Outline* outline;
  Corners corners;
  double area;
};
using Shapes = std::map<FacetTypeName, TypeShape>;

Shapes shapes_of(const Dish& dish) {
  Shapes shapes;
  for (const FacetType& type : dish.facet_types)
    shapes.insert(
        {type.name,
         {&type.outline, outline_corners(type.outline, k_arc_points), outline_area(type.outline)}});
  return shapes;
}

const TypeShape* find_shape(const Shapes& shapes, const FacetTypeName& name) {
  const auto found = shapes.find(name);
  return found == shapes.end() ? nullptr : &found->second;
}

Vec2 turned(const Vec2& v, double cosine, double sine) {
  return {cosine * v.x - sine * v.y, sine * v.x + cosine * v.y};
}

}  // namespace

Aperture aperture_of(const Dish& dish) {
  const Shapes shapes = shapes_of(dish);
  Aperture aperture;
  Corners points;
  for (const Facet& facet : dish.facets) {
    const Vec2 centre(facet.centre_m);
    const TypeShape* shape = find_shape(shapes, facet.type);
    if (shape == nullptr) {
      points.push_back(centre);
      aperture.rim_radius_m = std::max(aperture.rim_radius_m, glm::length(centre));
      continue;
    }
    const double cosine = std::cos(facet.clocking_rad);
    const double sine = std::sin(facet.clocking_rad);
    for (const Vec2& corner : shape->corners) {
      points.push_back(centre + turned(corner, cosine, sine));
      aperture.rim_radius_m = std::max(aperture.rim_radius_m, glm::length(points.back()));
    }
    // The polygon of a disc stays inside it; its reach from the axis is known exactly.
    if (const auto* disc = std::get_if<Disc>(shape->outline))
      aperture.rim_radius_m =
          std::max(aperture.rim_radius_m, glm::length(centre) + 0.5 * disc->diameter_m);
  }
  aperture.hull = convex_hull(std::move(points));
  aperture.area_m2 = signed_area(aperture.hull);
  return aperture;
}

double mirror_area_m2(const Dish& dish) {
  const Shapes shapes = shapes_of(dish);
  double area = 0.0;
  for (const Facet& facet : dish.facets) {
    const TypeShape* shape = find_shape(shapes, facet.type);
    if (shape != nullptr) area += shape->area;
  }
  return area;
}

std::vector<Vec3> facet_corners(const Facet& facet, const Outline& outline, double focal_length_m,
                                int arc_points) {
  const Vec3 normal =
      facet.normal ? base::unit(*facet.normal) : prime_focus_normal(facet.centre_m, focal_length_m);
  const base::Mat3 axes = base::frame_of_normal(normal, facet.clocking_rad);
  std::vector<Vec3> corners;
  for (const Vec2& corner : outline_corners(outline, arc_points))
    corners.push_back(facet.centre_m + corner.x * axes[0] + corner.y * axes[1]);
  return corners;
}

double paraboloid_rim_angle_rad(double focal_length_m, double diameter_m) {
  return 2.0 * std::atan(diameter_m / (4.0 * focal_length_m));
}

double focal_ratio(double focal_length_m, double diameter_m) { return focal_length_m / diameter_m; }

double rim_angle_rad(const Dish& dish) {
  const Shapes shapes = shapes_of(dish);
  double angle = 0.0;
  for (const Facet& facet : dish.facets) {
    const TypeShape* shape = find_shape(shapes, facet.type);
    if (shape == nullptr) continue;
    for (const Vec3& corner :
         facet_corners(facet, *shape->outline, dish.focal_length_m, k_arc_points)) {
      const double radius = glm::length(Vec2(corner));
      angle = std::max(angle, std::atan2(radius, dish.focal_length_m - corner.z));
    }
  }
  return angle;
}

std::vector<TypeCount> count_types(const Dish& dish) {
  std::map<FacetTypeName, std::size_t> facets_of;
  for (const Facet& facet : dish.facets) ++facets_of[facet.type];
  std::vector<TypeCount> counts;
  for (const FacetType& type : dish.facet_types)
    counts.push_back({type.name, facets_of[type.name]});
  return counts;
}

double receiver_area_m2(const Receiver& receiver) {
  if (const auto* disc = std::get_if<DiscReceiver>(&receiver.shape))
    return 0.25 * base::k_pi * disc->diameter_m * disc->diameter_m;
  const auto& rectangle = std::get<RectangleReceiver>(receiver.shape);
  return rectangle.width_m * rectangle.height_m;
}

double geometric_concentration(const Dish& dish) {
  return aperture_of(dish).area_m2 / receiver_area_m2(dish.receiver);
}

base::Pose board_pose(const Receiver& receiver) {
  return {receiver.centre_m, base::frame_of_board(base::unit(receiver.lit_normal), receiver.up)};
}

base::Pose board_pose(const Board& board) {
  return {board.centre_m, base::frame_of_board(base::unit(board.lit_normal), board.up)};
}

base::Pose board_pose(const Round& round, const Receiver& receiver) {
  return round.board ? board_pose(*round.board) : board_pose(receiver);
}

}  // namespace dish
