// Poses multiplied out, so that a ray goes from its facet straight into every other frame.
#include "optics/kernel_scene.h"

#include <algorithm>
#include <cmath>

#include "optics/path.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

/// Margins that swallow single precision; what lies between is decided exactly afterwards.
constexpr double k_wider = 1.0 + 1e-4;
constexpr double k_units = 0x1p23 - 1.0;  ///< see Tally in kernel_follow.h

template <class T>
void put(T (&out)[3], const Vec3& v) {
  for (int k = 0; k < 3; ++k) out[k] = static_cast<T>(v[k]);
}

/// Axes of `own` seen from `ray`, and the origin of `ray` in `own`.
template <class T>
void put_change(T (&row)[3][3], T (&origin)[3], const base::Pose& dish_from_ray,
                const base::Pose& dish_from_own) {
  for (int k = 0; k < 3; ++k) {
    put(row[k], base::direction_to_inner(dish_from_ray, dish_from_own.axes[k]));
  }
  put(origin, base::point_to_inner(dish_from_own, dish_from_ray.origin));
}

template <class T>
void put_quadric(T (&out)[6], const Quadric& s) {
  const double terms[6] = {s.uu, s.vv, s.ww, s.uv, s.uw, s.vw};
  for (int k = 0; k < 6; ++k) out[k] = static_cast<T>(terms[k]);
}

template <class T>
KernelPlane<T> plane_of(const base::Pose& board, const base::Pose& dish_from_ray) {
  KernelPlane<T> plane{};
  const Vec3 way = board.origin - dish_from_ray.origin;
  put(plane.right, base::direction_to_inner(dish_from_ray, board.x()));
  put(plane.up, base::direction_to_inner(dish_from_ray, board.y()));
  put(plane.normal, base::direction_to_inner(dish_from_ray, board.z()));
  plane.right_at = static_cast<T>(glm::dot(board.x(), way));
  plane.up_at = static_cast<T>(glm::dot(board.y(), way));
  plane.normal_at = static_cast<T>(glm::dot(board.z(), way));
  return plane;
}

/// A hexagon of three equal parallelograms about its origin.
bool is_three_rhombi(const Edge& edge) {
  if (edge.corners.size() != 6) return false;
  const auto& c = edge.corners;
  for (std::size_t k = 0; k < 3; ++k) {
    if (glm::length(c[2 * k] + c[(2 * k + 2) % 6] - c[2 * k + 1]) > 1e-12) return false;
  }
  return std::abs(edge.fan_share[0] - edge.fan_share[3]) < 1e-12;
}

/// The greatest 1 / n_w of the glass: a ray's weight never exceeds it.
double steepest(const SceneFacet& facet, const Edge& edge, double form_slope) {
  double slope = 0.0;
  for (const Vec2& p : boundary(edge, 32)) {
    const Vec3 normal = normal_at(facet.surface, {p.x, p.y, sag(facet.surface, p.x, p.y)});
    slope = std::max(slope, std::hypot(normal.x, normal.y) / normal.z);
  }
  return std::hypot(1.0, slope + form_slope);
}

/// Whether all of an obstacle lies beyond the receiver's plane, seen from its lit side. Light that
/// starts on that side ends at the plane or goes away from it, so it meets no such obstacle.
bool is_behind_receiver(const Scene& scene, const Obstacle& obstacle) {
  const base::Pose& board = scene.receiver.dish_from_board;
  double reach = obstacle.bounds.radius;
  if (const auto* plate = std::get_if<PlateObstacle>(&obstacle.shape)) {
    const double lean = glm::dot(plate->dish_from_plate.z(), board.z());
    reach *= std::sqrt(std::max(1.0 - lean * lean, 0.0));
  }
  return base::point_to_inner(board, obstacle.bounds.centre).z + reach < -1e-5;
}

struct ObstaclePut {
  const base::Pose& ray;

  template <class T>
  void put_shape(const PlateObstacle& plate, KernelStopper<T>& s) const {
    s.kind = plate.is_round ? KernelStopper<T>::round_plate : KernelStopper<T>::square_plate;
    put_change(s.row, s.origin, ray, plate.dish_from_plate);
    put(s.half, Vec3(plate.half_m, 0.0));
  }
  template <class T>
  void put_shape(const BoxObstacle& box, KernelStopper<T>& s) const {
    s.kind = KernelStopper<T>::box;
    put_change(s.row, s.origin, ray, box.dish_from_box);
    put(s.half, box.half_m);
  }
  template <class T>
  void put_shape(const TubeObstacle& tube, KernelStopper<T>& s) const {
    s.kind = KernelStopper<T>::tube;
    put_change(s.row, s.origin, ray, tube.dish_from_tube);
    put(s.half, {tube.radius_m, tube.length_m, 0.0});
  }
};

}  // namespace

template <class T>
const KernelOutline<T>* KernelMaker<T>::add_outline(const Edge& edge) {
  using Made = KernelOutline<T>;
  Outline& outline = outlines_.emplace_back();
  for (const Edge::HalfPlane& side : edge.sides) {
    for (const double term : {side.a, side.b, side.c}) {
      outline.side.push_back(static_cast<T>(term));
    }
  }
  for (const Vec2& corner : edge.corners) {
    outline.corner.push_back(static_cast<T>(corner.x));
    outline.corner.push_back(static_cast<T>(corner.y));
  }
  for (const double share : edge.fan_share) outline.share.push_back(static_cast<T>(share));
  Made& made = outline.made;
  made.side = outline.side.data();
  made.corner = outline.corner.data();
  made.share = outline.share.data();
  made.sides = static_cast<int>(edge.sides.size());
  const auto square = [](double x) { return static_cast<T>(x * x); };
  made.bounding2 = square(edge.bounding_radius_m * k_wider);
  made.surely2 = square(edge.surely_inside_m / k_wider);
  if (edge.kind == Edge::Kind::polygon) {
    made.kind = Made::polygon;
    made.spread = is_parallelogram(edge)  ? Made::parallelogram
                  : is_three_rhombi(edge) ? Made::rhombi
                                          : Made::fan;
    return &made;
  }
  made.kind = Made::ring;
  made.spread = Made::arc;
  made.centre[0] = static_cast<T>(edge.arc_centre.x);
  made.centre[1] = static_cast<T>(edge.arc_centre.y);
  made.inner2 = square(edge.inner_radius_m);
  made.outer2 = square(edge.outer_radius_m);
  made.opening_turns = static_cast<T>(edge.opening_turns);
  made.opening_side[0] = static_cast<T>(edge.opening_side.x);
  made.opening_side[1] = static_cast<T>(edge.opening_side.y);
  return &made;
}

template <class T>
KernelStopper<T> KernelMaker<T>::stopper(const base::Pose& dish_from_ray,
                                         std::uint32_t code) const {
  KernelStopper<T> s{};
  Sphere bounds;
  if (code < scene_.facets.size() || code == scene_.secondary_code()) {
    s.kind = KernelStopper<T>::mirror;
    const bool is_facet = code < scene_.facets.size();
    const base::Pose& own =
        is_facet ? scene_.facets[code].dish_from_facet : scene_.secondary->dish_from_secondary;
    put_change(s.row, s.origin, dish_from_ray, own);
    put_quadric(s.quadric, is_facet ? scene_.facets[code].surface : scene_.secondary->surface);
    s.outline = &outlines_[is_facet ? scene_.facets[code].edge : scene_.edges.size()].made;
    bounds = is_facet ? scene_.facets[code].bounds : scene_.secondary_bounds;
  } else {
    const Obstacle& obstacle = scene_.obstacles[code - scene_.facets.size()];
    std::visit([&](const auto& shape) { ObstaclePut{dish_from_ray}.put_shape(shape, s); },
               obstacle.shape);
    bounds = obstacle.bounds;
  }
  const Vec3 centre = base::point_to_inner(dish_from_ray, bounds.centre);
  const double radius = bounds.radius * k_wider + 1e-5;
  for (int k = 0; k < 3; ++k) s.bounds[k] = static_cast<T>(centre[k]);
  s.bounds[3] = static_cast<T>(radius * radius);
  s.radius = static_cast<T>(radius);
  return s;
}

template <class T>
void KernelMaker<T>::make_secondary() {
  const SecondaryMirror& mirror = *scene_.secondary;
  made_.has_secondary = 1;
  made_.curvature = static_cast<T>(mirror.surface.uu);
  made_.axial_curvature = static_cast<T>(mirror.surface.ww);
  made_.rim2 = static_cast<T>(mirror.rim_radius_m * mirror.rim_radius_m);
  made_.hole2 = static_cast<T>(mirror.hole_radius_m * mirror.hole_radius_m);
  made_.secondary_slope = static_cast<T>(mirror.slope_error_rad);
  made_.secondary_specularity = static_cast<T>(mirror.specularity_error_rad);
  const base::Pose& board = scene_.receiver.dish_from_board;
  made_.plane = plane_of<T>(board, mirror.dish_from_secondary);
  // The receiver itself, first among the obstacles when it shades, is the target here.
  const std::size_t first = scene_.receiver_shades ? 1 : 0;
  for (std::size_t k = first; scene_.has_blocking && k < scene_.obstacles.size(); ++k) {
    after_.push_back(stopper(mirror.dish_from_secondary, scene_.obstacle_code(k)));
  }
  made_.after = after_.data();
  made_.after_count = static_cast<int>(after_.size());
  // A straight line is farthest from the receiver's vertical axis at an end of any stretch: when
  // both ends of its stretch within the facets' layer are nearer than the nearest facet that rises
  // above the receiver's plane, none is in the way.
  double safe = HUGE_VAL;
  double top = -HUGE_VAL;
  for (const SceneFacet& facet : scene_.facets) {
    const Vec3 way = facet.bounds.centre - board.origin;
    const double radius = facet.bounds.radius * k_wider + 1e-5;
    if (way.z + radius <= 0.0) continue;
    top = std::max(top, way.z + radius);
    safe = std::min(safe, std::sqrt(way.x * way.x + way.y * way.y) - radius);
  }
  const bool is_level = board.z().z > 1.0 - 1e-9;
  made_.is_always_safe = !scene_.has_blocking || (is_level && !(top > 0.0)) ? 1 : 0;
  safe = is_level && safe > 0.0 && std::isfinite(safe) ? safe / k_wider : -1.0;
  made_.safe2 = static_cast<T>(safe > 0.0 ? safe * safe : -1.0);
  made_.safe_height = static_cast<T>(std::max(top, 0.0));
}

template <class T>
KernelMaker<T>::KernelMaker(const Scene& scene, double map_width_m) : scene_(scene) {
  for (const Edge& edge : scene.edges) add_outline(edge);
  const SunProfile& sun = scene.sun_profile;
  made_.is_pillbox = sun.is_pillbox ? 1 : 0;
  made_.disc_sine = static_cast<T>(sun.disc_sine);
  if (!sun.is_pillbox) {
    const bool has_tail = !sun.aureole.empty();
    const double steps = SunProfile::k_steps;
    sun_table_ = sun.disc;
    sun_table_.insert(sun_table_.end(), sun.aureole.begin(), sun.aureole.end());
    made_.split = static_cast<T>(has_tail ? sun.split : 2.0);
    made_.disc_steps = static_cast<T>(steps / sun.split);
    made_.aureole_steps = static_cast<T>(has_tail ? steps / (1.0 - sun.split) : 0.0);
    made_.sun_table = sun_table_.data();
  }
  const SceneReceiver& receiver = scene.receiver;
  made_.is_round = receiver.is_round ? 1 : 0;
  made_.half[0] = static_cast<T>(receiver.half_m.x);
  made_.half[1] = static_cast<T>(receiver.half_m.y);
  made_.half2 = static_cast<T>(receiver.half_m.x * receiver.half_m.x);
  made_.cells_per_m = static_cast<T>(k_kernel_grid / map_width_m);
  if (scene.secondary) {
    add_outline(ring_edge(scene.secondary->rim_radius_m, scene.secondary->hole_radius_m));
    make_secondary();
  }
}

template <class T>
const KernelFacet<T>& KernelMaker<T>::facet(std::size_t index) {
  const SceneFacet& facet = scene_.facets[index];
  const base::Pose& pose = facet.dish_from_facet;
  const Quadric& s = facet.surface;
  facet_ = {};
  facet_.outline = &outlines_[facet.edge].made;
  const bool is_straight = s.uv == 0.0 && s.uw == 0.0 && s.vw == 0.0 && s.uu == s.vv;
  facet_.is_flat = is_straight && s.uu == 0.0 ? 1 : 0;
  facet_.is_axial = is_straight && s.uu != 0.0 ? 1 : 0;
  facet_.is_sphere = is_straight && s.uu == s.ww ? 1 : 0;
  put_quadric(facet_.quadric, s);
  put(facet_.sun, base::direction_to_inner(pose, scene_.dish_from_sun[2]));
  put(facet_.sun_x, base::direction_to_inner(pose, scene_.dish_from_sun[0]));
  put(facet_.sun_y, base::direction_to_inner(pose, scene_.dish_from_sun[1]));
  facet_.slope = static_cast<T>(facet.slope_error_rad);
  facet_.specularity = static_cast<T>(facet.specularity_error_rad);
  const double form_slope = facet.form == k_no_form ? 0.0 : scene_.forms[facet.form].most_slope;
  const double reach = scene_.sun_profile.reach_sine;
  const double most =
      1.02 * steepest(facet, scene_.edges[facet.edge], form_slope) / std::sqrt(1.0 - reach * reach);
  facet_.units = static_cast<T>(k_units / most);
  facet_.most_units = static_cast<T>(k_units);
  const Path chief = follow(scene_, facet, facet_point(scene_, facet, {0.0, 0.0}), scene_.sun, {},
                            {.shading = false, .blocking = false, .rim = false});
  if (chief.end == End::landed) {
    facet_.chief[0] = static_cast<T>(chief.board.x);
    facet_.chief[1] = static_cast<T>(chief.board.y);
  }
  facet_.plane = plane_of<T>(scene_.receiver.dish_from_board, pose);
  if (scene_.secondary) {
    put_change(facet_.row, facet_.origin, pose, scene_.secondary->dish_from_secondary);
  }
  shaders_.clear();
  blockers_.clear();
  for (std::uint32_t k = 0; k < facet.shaders.count; ++k) {
    shaders_.push_back(stopper(pose, scene_.candidates[facet.shaders.first + k]));
  }
  const bool is_before_receiver =
      !scene_.secondary &&
      base::point_to_inner(scene_.receiver.dish_from_board, facet.bounds.centre).z >
          facet.bounds.radius;
  for (std::uint32_t k = 0; k < facet.blockers.count; ++k) {
    const std::uint32_t code = scene_.candidates[facet.blockers.first + k];
    if (is_before_receiver && code >= scene_.facets.size() &&
        is_behind_receiver(scene_, scene_.obstacles[code - scene_.facets.size()])) {
      continue;
    }
    blockers_.push_back(stopper(pose, code));
  }
  facet_.shaders = shaders_.data();
  facet_.shader_count = static_cast<int>(shaders_.size());
  facet_.blockers = blockers_.data();
  facet_.blocker_count = static_cast<int>(blockers_.size());
  return facet_;
}

template class KernelMaker<float>;
template class KernelMaker<double>;

}  // namespace optics
