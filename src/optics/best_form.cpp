// The surface one facet should have: where its light must gather, and the sphere and the piece of
// paraboloid that gather it there.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "optics/canting.h"
#include "optics/facet_surface.h"
#include "optics/form_choice.h"
#include "optics/outline_points.h"
#include "optics/path.h"
#include "optics/scene.h"
#include "optics/spot_of_form.h"

namespace optics {
namespace {

using base::Problem;
using base::Problems;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr double k_same_point_m = 1e-9;

/// The point nearest to several lines: least squares of the distances square to each.
class NearestPoint {
 public:
  void add(const Vec3& origin, const Vec3& direction) {
    const base::Mat3 square_to = base::Mat3(1.0) - glm::outerProduct(direction, direction);
    sum_ += square_to;
    right_ += square_to * origin;
  }
  [[nodiscard]] std::optional<Vec3> point() const {
    // Parallel lines gather nowhere.
    if (!(std::abs(glm::determinant(sum_)) > 1e-14)) return std::nullopt;
    return glm::inverse(sum_) * right_;
  }

 private:
  base::Mat3 sum_{0.0};
  Vec3 right_{0.0};
};

/// Where light must head for on leaving the facet: its aim, or the aim's image in the secondary.
Result<Vec3> focus_of(const dish::Dish& dish, const Scene& scene, std::size_t index) {
  const dish::Facet& facet = dish.facets[index];
  const Vec3 aim = aim_point(dish, facet);
  if (!scene.secondary) return aim;
  const SecondaryMirror& mirror = *scene.secondary;
  if (mirror.far_focus && glm::distance(*mirror.far_focus, aim) < k_same_point_m) {
    return *mirror.near_focus;
  }
  const SceneFacet& made = scene.facets[index];
  const base::Pose& pose = made.dish_from_facet;
  const double step = 0.5 * scene.edges[made.edge].bounding_radius_m;
  NearestPoint nearest;
  for (const Vec2& at : {Vec2(step, 0.0), Vec2(0.0, step), Vec2(-step, 0.0), Vec2(0.0, -step)}) {
    const Vec3 origin = base::point_to_outer(pose, {at.x, at.y, 0.0});
    const auto way = direction_to_target(dish, origin, aim);
    if (!way) return way.problems();
    nearest.add(origin, way.value());
  }
  const auto point = nearest.point();
  const Vec3 leaving = base::reflect(-scene.sun, pose.z());
  if (point && glm::dot(*point - pose.origin, leaving) > 0.0) return *point;
  return Problem{"facets/" + facet.id.text, "its light would have to spread to reach its aim",
                 "a secondary and an aim that a hollow mirror can serve"};
}

double highest_edge(const Quadric& surface, const Edge& edge) {
  double highest = 0.0;
  for (const Vec2& p : boundary(edge, 32)) {
    const double height = sag(surface, p.x, p.y);
    if (std::abs(height) > std::abs(highest)) highest = height;
  }
  return highest;
}

Result<BestForm> best_form(const dish::Dish& dish, const Scene& scene, std::size_t index) {
  const auto focus = focus_of(dish, scene, index);
  if (!focus) return focus.problems();
  const dish::Facet& facet = dish.facets[index];
  const SceneFacet& made = scene.facets[index];
  const Edge& edge = scene.edges[made.edge];
  BestForm best;
  best.id = facet.id;
  best.focus_m = focus.value();
  PiecePlace place = piece_for(made.dish_from_facet, best.focus_m);
  best.distance_m = place.distance_m;
  best.incidence_rad = place.incidence_rad;
  best.piece = place.piece;
  const double cosine = std::cos(best.incidence_rad);
  best.radius_across_m = 2.0 * best.piece.focal_length_m / cosine;
  best.radius_along_m = best.radius_across_m / (cosine * cosine);

  const FormSpot spot(scene, index, aim_point(dish, facet));
  const Quadric piece = facet_quadric(best.piece, facet, made.dish_from_facet.z());
  best.piece_rms_m = std::sqrt(spot.mean_square(piece));
  best.piece_sag_m = highest_edge(piece, edge);
  best.flat_rms_m = std::sqrt(spot.mean_square(flat_quadric()));
  const CurvatureFit sphere = fit_curvature(spot, 0.0, 0.5 / best.distance_m);
  best.sphere_radius_m = 1.0 / sphere.curvature_per_m;
  const Quadric ball = conic_quadric(sphere.curvature_per_m, 0.0);
  best.sphere_rms_m = std::sqrt(spot.mean_square(ball));
  best.sphere_sag_m = highest_edge(ball, edge);
  return best;
}

}  // namespace

FormSpot::FormSpot(const Scene& scene, std::size_t facet, const Vec3& aim_dish)
    : scene_(scene),
      facet_(scene.facets[facet]),
      points_(outline_points(scene.edges[facet_.edge])) {
  const Vec3 on_board = base::point_to_inner(scene.receiver.dish_from_board, aim_dish);
  aim_ = {on_board.x, on_board.y};
}

double FormSpot::mean_square(const Quadric& surface) const {
  SceneFacet formed = facet_;
  formed.surface = surface;
  formed.form = k_no_form;
  constexpr Tests k_none{.shading = false, .blocking = false, .rim = false};
  double square = 0.0;
  double weight = 0.0;
  for (const OutlinePoint& at : points_) {
    const FacetPoint start = facet_point(scene_, formed, at.uv);
    if (!std::isfinite(start.point.z)) return k_lost_m2;
    const Path path = follow(scene_, formed, start, scene_.sun, {}, k_none);
    if (path.end != End::landed) return k_lost_m2;
    const Vec3 normal = base::direction_to_outer(formed.dish_from_facet, start.normal);
    const double share = at.share * glm::dot(normal, scene_.sun) / start.normal.z;
    const Vec2 off = path.board - aim_;
    square += share * glm::dot(off, off);
    weight += share;
  }
  return weight > 0.0 ? square / weight : k_lost_m2;
}

CurvatureFit fit_curvature(const FormSpot& spot, double conic_constant, double guess_per_m) {
  const auto at = [&](double curvature) {
    return spot.mean_square(conic_quadric(curvature, conic_constant));
  };
  // The mean square is a parabola but for small higher terms: three points give its lowest, anew
  // with points ever nearer.
  CurvatureFit fit{guess_per_m, 0.0, 0.0};
  for (const double reach : {0.1, 0.01, 0.001}) {
    const double step = reach * std::abs(guess_per_m);
    const double below = at(fit.curvature_per_m - step);
    const double here = at(fit.curvature_per_m);
    const double above = at(fit.curvature_per_m + step);
    const double bend = below - 2.0 * here + above;
    if (!(bend > 0.0)) break;
    const double move = 0.5 * step * (below - above) / bend;
    // What lies far outside the three points is no longer theirs to tell.
    fit.curvature_per_m += std::clamp(move, -5.0 * step, 5.0 * step);
    fit.stiffness_m4 = bend / (step * step);
  }
  fit.mean_square_m2 = at(fit.curvature_per_m);
  return fit;
}

PiecePlace piece_for(const base::Pose& dish_from_facet, const Vec3& focus_m) {
  PiecePlace place;
  place.distance_m = glm::distance(dish_from_facet.origin, focus_m);
  const Vec3 sun = base::direction_to_inner(dish_from_facet, {0.0, 0.0, 1.0});
  const double sine = std::hypot(sun.x, sun.y);
  place.incidence_rad = std::atan2(sine, sun.z);
  place.piece.focal_length_m = place.distance_m * sun.z * sun.z;
  place.piece.off_axis_m = 2.0 * place.distance_m * sun.z * sine;
  // Away from the axis is where the sun leans from the normal.
  place.piece.meridian_rad = sine > 1e-12 ? std::atan2(sun.y, sun.x) : 0.0;
  return place;
}

dish::Dish at_nominal(const dish::Dish& dish) {
  dish::Dish nominal = dish;
  for (dish::Facet& facet : nominal.facets) facet.displacement_m = {0.0, 0.0, 0.0};
  return nominal;
}

Result<std::vector<BestForm>> best_forms(const dish::Dish& dish, const base::Progress& progress) {
  const dish::Dish nominal = at_nominal(dish);
  const auto scene = make_scene(nominal, {});
  if (!scene) return scene.problems();
  std::vector<BestForm> forms;
  Problems problems;
  for (std::size_t k = 0; k < nominal.facets.size(); ++k) {
    if (progress.cancelled()) return Problem{"cancelled", "", "a search that was let finish"};
    auto form = best_form(nominal, scene.value(), k);
    if (form) {
      forms.push_back(std::move(form).value());
    } else {
      problems.insert(problems.end(), form.problems().begin(), form.problems().end());
    }
    progress.tell(static_cast<double>(k + 1) / static_cast<double>(nominal.facets.size()));
  }
  if (!problems.empty()) return problems;
  return forms;
}

}  // namespace optics
