// From the document to flat arrays, with every problem named at its place.
#include "optics/scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <unordered_map>

#include "base/elementary.h"
#include "base/units.h"
#include "optics/aperture.h"
#include "optics/canting.h"
#include "optics/facet_surface.h"
#include "optics/neighbours.h"

namespace optics {
namespace {

using base::Problem;
using base::Problems;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr double k_most_form_slope = 0.3;

double form_height(const Scene& scene, const SceneFacet& facet) {
  return facet.form == k_no_form ? 0.0 : scene.forms[facet.form].most_height_m;
}

/// Sphere around the glass: about the mean of points on its edge and its centre.
Sphere bounds_of(const SceneFacet& facet, const Edge& edge, double form_height) {
  std::vector<Vec3> points;
  for (const Vec2& p : boundary(edge, 32)) {
    points.emplace_back(p.x, p.y, sag(facet.surface, p.x, p.y));
  }
  double low = 0.0;
  double high = 0.0;
  for (const Vec3& p : points) {
    low = std::min(low, p.z);
    high = std::max(high, p.z);
  }
  // The glass stays between the tangent plane and its edge; a round edge bulges between points.
  const Vec3 centre{0.0, 0.0, 0.5 * (low + high)};
  const double depth = 0.5 * (high - low) + form_height;
  const double radius = std::hypot(1.001 * edge.bounding_radius_m, 1.02 * depth + 1e-6);
  return {base::point_to_outer(facet.dish_from_facet, centre), radius};
}

/// Sets pose, surface and bounds of a facet as built, whose edge is already known.
Problems stand(const dish::Dish& dish, const dish::Facet& facet, const adjusters::FacePose& nominal,
               const Scene& scene, SceneFacet& made) {
  const auto built = displaced(dish, facet, nominal);
  if (!built) return built.problems();
  const double cosine = glm::dot(built.value().normal, scene.sun);
  if (cosine <= 0.01) {
    return {{"facets/" + facet.id.text, "it faces away from the sun",
             "a normal within 89 degrees of the direction to the sun"}};
  }
  const dish::FacetType& type = dish.facet_types[made.edge];
  made.reflectance = scene.mirrors[made.edge].at(cosine);
  made.dish_from_facet = {built.value().centre,
                          base::frame_of_normal(built.value().normal, facet.clocking_rad)};
  made.surface = facet_quadric(type.surface, facet, nominal.normal);
  const Edge& edge = scene.edges[made.edge];
  for (const Vec2& p : boundary(edge, 32)) {
    if (std::isfinite(sag(made.surface, p.x, p.y))) continue;
    return {{"facet_types/" + type.name.text + "/surface", "its surface ends within its outline",
             "a flatter surface"}};
  }
  made.bounds = bounds_of(made, edge, form_height(scene, made));
  return {};
}

/// Types by name: facets of many types must not cost a search through all of them each.
class TypeIndex {
 public:
  explicit TypeIndex(const std::vector<dish::FacetType>& types) {
    for (const dish::FacetType& type : types) by_name_.emplace(type.name.text, &type);
  }
  [[nodiscard]] const dish::FacetType* find(const dish::FacetTypeName& name) const {
    const auto found = by_name_.find(name.text);
    return found == by_name_.end() ? nullptr : found->second;
  }

 private:
  std::unordered_map<std::string_view, const dish::FacetType*> by_name_;
};

/// Adds the facets, their edges and all their problems.
class FacetMaker {
 public:
  FacetMaker(const dish::Dish& dish, Scene& scene, Problems& problems)
      : dish_(dish), types_(dish.facet_types), scene_(scene), problems_(problems) {}

  void make_all(const std::vector<adjusters::FacePose>& nominal) {
    make_edges();
    if (!problems_.empty()) return;
    scene_.facets.reserve(dish_.facets.size());
    for (const dish::FacetType& type : dish_.facet_types) {
      scene_.mirrors.emplace_back(type.reflectance, type.coating, type.cleanliness);
    }
    form_of_type_.assign(dish_.facet_types.size(), k_no_form);
    for (std::size_t k = 0; k < dish_.facets.size(); ++k) make_one(dish_.facets[k], nominal[k]);
  }

 private:
  void make_edges() {
    for (const dish::FacetType& type : dish_.facet_types) {
      auto edge = make_edge(type.outline, "facet_types/" + type.name.text + "/outline");
      if (edge) {
        scene_.edges.push_back(std::move(edge).value());
      } else {
        problems_.insert(problems_.end(), edge.problems().begin(), edge.problems().end());
      }
    }
  }

  void make_one(const dish::Facet& facet, const adjusters::FacePose& nominal) {
    const std::string place = "facets/" + facet.id.text;
    const dish::FacetType* type = types_.find(facet.type);
    if (type == nullptr) {
      problems_.push_back({place + "/type", facet.type.text, "the name of a facet type"});
      return;
    }
    SceneFacet made;
    made.id = facet.id;
    made.edge = static_cast<std::uint32_t>(type - dish_.facet_types.data());
    made.slope_error_rad = type->slope_error_rad;
    made.specularity_error_rad = type->specularity_error_rad;
    if (!give_form(*type, facet, made)) return;
    const Problems problems = stand(dish_, facet, nominal, scene_, made);
    problems_.insert(problems_.end(), problems.begin(), problems.end());
    if (!problems.empty()) return;
    scene_.facets.push_back(std::move(made));
  }

  /// The form of its type, which is made when first asked for, or one of its own.
  bool give_form(const dish::FacetType& type, const dish::Facet& facet, SceneFacet& made) {
    dish::FormError error = type.form_error;
    if (facet.sag_map) error.sag_map = facet.sag_map;
    if (dish::is_perfect(error)) return true;
    std::uint32_t& shared = form_of_type_[made.edge];
    if (!facet.sag_map && shared != k_no_form) {
      made.form = shared;
      return true;
    }
    made.form = static_cast<std::uint32_t>(scene_.forms.size());
    scene_.forms.push_back(make_facet_form(error, scene_.edges[made.edge]));
    if (!facet.sag_map) shared = made.form;
    const double slope = scene_.forms.back().most_slope;
    if (slope <= k_most_form_slope) return true;
    problems_.push_back({facet.sag_map ? "facets/" + facet.id.text + "/sag_map"
                                       : "facet_types/" + type.name.text + "/form_error",
                         fmt::format("slopes of up to {:.0f} mrad", 1e3 * slope),
                         fmt::format("slopes of at most {:.0f} mrad", 1e3 * k_most_form_slope)});
    return false;
  }

  const dish::Dish& dish_;
  TypeIndex types_;
  Scene& scene_;
  Problems& problems_;
  std::vector<std::uint32_t> form_of_type_;
};

void make_receiver(const dish::Dish& dish, Scene& scene, Problems& problems) {
  const dish::Receiver& receiver = dish.receiver;
  if (!(glm::length(receiver.lit_normal) > 1e-9)) {
    problems.push_back({"receiver/lit_normal", "no direction", "a direction"});
    return;
  }
  SceneReceiver& made = scene.receiver;
  made.dish_from_board = receiver_pose(receiver);
  made.absorptance = receiver.absorptance;
  if (const auto* disc = std::get_if<dish::DiscReceiver>(&receiver.shape)) {
    made.is_round = true;
    made.half_m = Vec2(0.5 * disc->diameter_m);
    made.area_m2 = base::k_pi * made.half_m.x * made.half_m.x;
  } else {
    const auto& rectangle = std::get<dish::RectangleReceiver>(receiver.shape);
    made.is_round = false;
    made.half_m = {0.5 * rectangle.width_m, 0.5 * rectangle.height_m};
    made.area_m2 = rectangle.width_m * rectangle.height_m;
  }
  made.longer_side_m = 2.0 * std::max(made.half_m.x, made.half_m.y);
  const double least = std::min(made.half_m.x, made.half_m.y);
  if (!(least > 0.0)) {
    problems.push_back({"receiver/shape", fmt::format("{} m", 2.0 * least), "a size above zero"});
    return;
  }
  if (receiver.shades) {
    scene.receiver_shades = true;
    scene.obstacles.push_back(plate_obstacle(made.dish_from_board, made.is_round, made.half_m));
  }
}

/// The last mirror must lie before the receiver's lit side, or nothing can ever land on it.
void check_receiver_is_lit(const Scene& scene, Problems& problems) {
  const base::Pose& board = scene.receiver.dish_from_board;
  const auto height = [&](const Vec3& point) { return base::point_to_inner(board, point).z; };
  if (scene.secondary) {
    const base::Pose& mirror = scene.secondary->dish_from_secondary;
    const bool is_before = height(mirror.origin) > 0.0;
    const bool is_seen = glm::dot(board.origin - mirror.origin, mirror.z()) > 0.0;
    if (!is_before || !is_seen) {
      problems.push_back({"receiver",
                          is_before ? "it stands behind the secondary"
                                    : "its lit side faces away from the secondary",
                          "a place and side that the secondary can light"});
    }
    return;
  }
  const bool any = std::any_of(scene.facets.begin(), scene.facets.end(), [&](const auto& facet) {
    return height(facet.dish_from_facet.origin) > 0.0;
  });
  if (!any) {
    problems.push_back({"receiver/lit_normal", "its lit side faces away from every facet",
                        "a side that the facets can light"});
  }
}

void make_secondary(const dish::Dish& dish, Scene& scene, Problems& problems) {
  if (!dish.secondary) return;
  auto made = secondary_mirror(*dish.secondary);
  if (!made) {
    problems.insert(problems.end(), made.problems().begin(), made.problems().end());
    return;
  }
  scene.secondary = std::move(made).value();
  const SecondaryMirror& mirror = *scene.secondary;
  if (mirror.dish_from_secondary.z().z > -0.02) {
    problems.push_back({"secondary/tilt_mrad", "it stands edge-on to the facets",
                        "a mirror side that faces the facets"});
  }
  const double depth = sag(mirror.surface, mirror.rim_radius_m, 0.0);
  const Vec3 middle{0.0, 0.0, 0.5 * depth};
  scene.secondary_bounds = {base::point_to_outer(mirror.dish_from_secondary, middle),
                            std::hypot(mirror.rim_radius_m, 0.5 * depth) * (1.0 + 1e-9)};
}

}  // namespace

Vec3 sun_direction(const Vec2& tracking_error_rad) {
  const double angle = std::sqrt(glm::dot(tracking_error_rad, tracking_error_rad));
  if (angle == 0.0) return {0.0, 0.0, 1.0};
  const auto [s, c] = base::sincos_turns(angle / (2.0 * base::k_pi));
  return {tracking_error_rad.x / angle * s, tracking_error_rad.y / angle * s, c};
}

base::Pose receiver_pose(const dish::Receiver& receiver) {
  return {receiver.centre_m, base::frame_of_board(base::unit(receiver.lit_normal), receiver.up)};
}

Result<Scene> make_scene(const dish::Dish& dish, const SceneOptions& options) {
  Scene scene;
  Problems problems;
  if (dish.facets.empty()) return Problem{"facets", "none", "at least one facet"};
  scene.sun = sun_direction(options.tracking_error_rad);
  scene.dish_from_sun = base::frame_of_normal(scene.sun);
  scene.sun_profile = make_sun_profile(dish.sun);
  scene.dni_W_m2 = dish.sun.dni_W_m2;

  make_secondary(dish, scene, problems);
  make_receiver(dish, scene, problems);
  if (!problems.empty()) return problems;
  const auto nominal = nominal_poses(dish);
  if (!nominal) return nominal.problems();
  FacetMaker(dish, scene, problems).make_all(nominal.value());
  if (!problems.empty()) return problems;
  for (const dish::Blocker& blocker : dish.blockers) {
    auto obstacle = make_obstacle(blocker);
    if (obstacle) {
      scene.obstacles.push_back(std::move(obstacle).value());
    } else {
      problems.push_back(obstacle.problems().front());
    }
  }
  check_receiver_is_lit(scene, problems);
  if (!problems.empty()) return problems;
  measure_aperture(scene);
  find_candidates(scene, options.cull);
  scene.has_blocking = options.blocking;
  for (SceneFacet& facet : scene.facets) {
    if (!options.shading) facet.shaders.count = 0;
    if (!options.blocking) facet.blockers.count = 0;
  }
  return scene;
}

Result<SceneMove> move_facet(Scene& scene, const dish::Dish& dish, std::size_t moved) {
  BASE_CHECK(moved < scene.facets.size() && scene.facets.size() == dish.facets.size(),
             "the moved facet is one of the scene's dish");
  const dish::Facet& facet = dish.facets[moved];
  const auto nominal = nominal_pose(dish, facet);
  if (!nominal) return nominal.problems();
  SceneMove move;
  move.facet = scene.facets[moved];
  Problems problems = stand(dish, facet, nominal.value(), scene, scene.facets[moved]);
  if (!problems.empty()) return problems;
  check_receiver_is_lit(scene, problems);
  if (!problems.empty()) return problems;
  remeasure_aperture(scene, moved);
  update_candidates(scene, moved, move);
  return move;
}

void exchange(Scene& scene, std::size_t moved, SceneMove& move) {
  std::swap(scene.facets[moved], move.facet);
  for (std::size_t k = 0; k < move.touched.size(); ++k) {
    SceneFacet& facet = scene.facets[move.touched[k]];
    std::swap(facet.shaders, move.lists[k][0]);
    std::swap(facet.blockers, move.lists[k][1]);
  }
}

bool is_stopped_by(const Scene& scene, std::uint32_t code, const Vec3& origin,
                   const Vec3& direction, double least, double most) {
  if (code == scene.secondary_code()) {
    return is_stopped_by(*scene.secondary, origin, direction, least, most);
  }
  if (code >= scene.facets.size()) {
    return is_stopped_by(scene.obstacles[code - scene.facets.size()], origin, direction, least,
                         most);
  }
  const SceneFacet& facet = scene.facets[code];
  if (!meets(facet.bounds, origin, direction)) return false;
  const Vec3 o = base::point_to_inner(facet.dish_from_facet, origin);
  const Vec3 d = base::direction_to_inner(facet.dish_from_facet, direction);
  const Hits hits = intersect(facet.surface, o, d);
  for (int k = 0; k < hits.count; ++k) {
    const double distance = hits.distance[static_cast<std::size_t>(k)];
    if (!(distance > least && distance < most)) continue;
    if (is_inside(scene.edges[facet.edge], o.x + distance * d.x, o.y + distance * d.y)) return true;
  }
  return false;
}

}  // namespace optics
