// Canting: the normal that bisects the directions to the sun and to the target.
#include "optics/canting.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>

#include "optics/secondary_mirror.h"

namespace optics {
namespace {

using base::Problem;
using base::Problems;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr int k_most_steps = 20;
constexpr double k_close_enough_m = 1e-12;
constexpr double k_good_enough_m = 1e-9;  ///< still a success when rounding stops the descent
constexpr double k_probe_rad = 1e-6;

std::string where(const Vec3& point) {
  return fmt::format("({:.4f}, {:.4f}, {:.4f}) m", point.x, point.y, point.z);
}

/// How far the ray that leaves `centre` along `direction` passes the target, off the secondary.
struct Miss {
  Vec3 offset{0.0};  ///< from the ray to the target, square to the ray
  Vec3 arriving{0.0};
  bool lies_ahead = false;
};

std::optional<Miss> miss_of(const SecondaryMirror& mirror, const Vec3& centre,
                            const Vec3& direction, const Vec3& target) {
  const auto hit = hit_mirror_side(mirror, centre, direction);
  if (!hit) return std::nullopt;
  const Vec3 leaving = base::reflect(direction, hit->normal);
  const Vec3 to_target = target - hit->point;
  const double along = glm::dot(to_target, leaving);
  return Miss{to_target - along * leaving, leaving, along > 0.0};
}

/// Newton on two numbers: the miss in a fixed plane square to the first arriving ray.
class Search {
 public:
  Search(const SecondaryMirror& mirror, const Vec3& centre, const Vec3& target)
      : mirror_(mirror), centre_(centre), target_(target) {}

  std::optional<Vec3> from(const Vec3& start) const {
    const auto first = miss_of(mirror_, centre_, start, target_);
    if (!first) return std::nullopt;
    const base::Mat3 plane = base::frame_of_normal(first->arriving);
    Vec3 direction = start;
    double length = glm::length(in_plane(*first, plane));
    for (int step = 0; step < k_most_steps && length > k_close_enough_m; ++step) {
      const auto better = improved(direction, length, plane);
      if (!better) break;
      direction = *better;
      length = glm::length(in_plane(*miss_of(mirror_, centre_, direction, target_), plane));
    }
    const auto last = miss_of(mirror_, centre_, direction, target_);
    if (!last || !last->lies_ahead || glm::length(last->offset) > k_good_enough_m) {
      return std::nullopt;
    }
    return direction;
  }

 private:
  static Vec2 in_plane(const Miss& miss, const base::Mat3& plane) {
    return {glm::dot(miss.offset, plane[0]), glm::dot(miss.offset, plane[1])};
  }

  static Vec3 turned(const Vec3& direction, const base::Mat3& frame, const Vec2& angle) {
    return base::unit(direction + angle.x * frame[0] + angle.y * frame[1]);
  }

  /// One Newton step with a central-difference Jacobian, shortened until it comes nearer.
  std::optional<Vec3> improved(const Vec3& direction, double length,
                               const base::Mat3& plane) const {
    const base::Mat3 frame = base::frame_of_normal(direction);
    std::array<Vec2, 2> column{};
    for (std::size_t axis = 0; axis < 2; ++axis) {
      const Vec2 probe = axis == 0 ? Vec2(k_probe_rad, 0.0) : Vec2(0.0, k_probe_rad);
      const auto plus = miss_of(mirror_, centre_, turned(direction, frame, probe), target_);
      const auto minus = miss_of(mirror_, centre_, turned(direction, frame, -probe), target_);
      if (!plus || !minus) return std::nullopt;
      column[axis] = (in_plane(*plus, plane) - in_plane(*minus, plane)) / (2 * k_probe_rad);
    }
    const double determinant = column[0].x * column[1].y - column[1].x * column[0].y;
    if (!(std::abs(determinant) > 1e-18)) return std::nullopt;
    const Vec2 miss = in_plane(*miss_of(mirror_, centre_, direction, target_), plane);
    Vec2 step{-(column[1].y * miss.x - column[1].x * miss.y) / determinant,
              -(column[0].x * miss.y - column[0].y * miss.x) / determinant};
    const double widest = 0.3;
    if (glm::length(step) > widest) step *= widest / glm::length(step);
    for (int halving = 0; halving < 12; ++halving, step *= 0.5) {
      const Vec3 next = turned(direction, frame, step);
      const auto there = miss_of(mirror_, centre_, next, target_);
      if (there && glm::length(in_plane(*there, plane)) < length) return next;
    }
    return std::nullopt;
  }

  const SecondaryMirror& mirror_;
  Vec3 centre_;
  Vec3 target_;
};

Result<Vec3> toward_flat(const SecondaryMirror& mirror, const Vec3& centre, const Vec3& target) {
  const Vec3 through = mirror.dish_from_secondary.origin;
  const Vec3 normal = mirror.dish_from_secondary.z();
  const double target_side = glm::dot(target - through, normal);
  const double centre_side = glm::dot(centre - through, normal);
  if (!(target_side > 0.0 && centre_side > 0.0)) {
    return Problem{"secondary", where(target),
                   "a target and a facet that both lie before the flat mirror"};
  }
  return base::unit(target - 2.0 * target_side * normal - centre);
}

Result<Vec3> direction_off(const SecondaryMirror& mirror, const Vec3& centre, const Vec3& target) {
  if (mirror.is_flat) return toward_flat(mirror, centre, target);
  const Vec3 vertex = mirror.dish_from_secondary.origin;
  // A conic sends all light aimed at one focus to the other: no search when that is the target.
  if (mirror.far_focus && glm::distance(*mirror.far_focus, target) < k_close_enough_m) {
    const Vec3 direction = base::unit(*mirror.near_focus - centre);
    const auto miss = miss_of(mirror, centre, direction, target);
    if (miss && miss->lies_ahead && glm::length(miss->offset) < k_good_enough_m) {
      return direction;
    }
    return Problem{"secondary", where(target), "a facet whose light the secondary can meet"};
  }
  // Else search, from the near focus, then the vertex, then points around the vertex.
  const Search search(mirror, centre, target);
  if (mirror.near_focus) {
    if (const auto found = search.from(base::unit(*mirror.near_focus - centre))) return *found;
  }
  if (const auto found = search.from(base::unit(vertex - centre))) return *found;
  for (const double share : {0.5, 0.9}) {
    for (const double angle : {0.0, 1.0, 2.0, 3.0, 4.0, 5.0}) {
      const double r = share * mirror.rim_radius_m;
      const double u = r * std::cos(angle);
      const double v = r * std::sin(angle);
      const Vec3 point =
          base::point_to_outer(mirror.dish_from_secondary, {u, v, sag(mirror.surface, u, v)});
      if (const auto found = search.from(base::unit(point - centre))) return *found;
    }
  }
  return Problem{"secondary", where(target), "a place the secondary can send light to"};
}

Result<std::optional<SecondaryMirror>> mirror_of(const dish::Dish& dish) {
  if (!dish.secondary) return std::optional<SecondaryMirror>{};
  auto mirror = secondary_mirror(*dish.secondary);
  if (!mirror) return mirror.problems();
  return std::optional<SecondaryMirror>{std::move(mirror).value()};
}

Result<Vec3> direction_by_way_of(const std::optional<SecondaryMirror>& mirror, const Vec3& centre,
                                 const Vec3& target) {
  if (mirror) return direction_off(*mirror, centre, target);
  const Vec3 way = target - centre;
  if (!(glm::length(way) > 1e-9)) {
    return Problem{"receiver", where(target), "a target away from the facet"};
  }
  return base::unit(way);
}

Problem in_facet(const dish::Facet& facet, const Problem& problem) {
  return {"facets/" + facet.id.text, problem.place + ": " + problem.value, problem.expected};
}

Result<adjusters::FacePose> pose_of(const std::optional<SecondaryMirror>& mirror,
                                    const dish::Dish& dish, const dish::Facet& facet) {
  if (facet.normal) {
    if (!(glm::length(*facet.normal) > 1e-9)) {
      return Problem{"facets/" + facet.id.text + "/normal", where(*facet.normal), "a direction"};
    }
    return adjusters::FacePose{facet.centre_m, base::unit(*facet.normal)};
  }
  const auto leaving = direction_by_way_of(mirror, facet.centre_m, aim_point(dish, facet));
  if (!leaving) return in_facet(facet, leaving.problems().front());
  const Vec3 both = leaving.value() + Vec3(0.0, 0.0, 1.0);
  if (!(glm::length(both) > 1e-6)) {
    return in_facet(facet, {"receiver", where(aim_point(dish, facet)),
                            "a target that is not straight behind the facet"});
  }
  return adjusters::FacePose{facet.centre_m, base::unit(both)};
}

}  // namespace

Vec3 aim_point(const dish::Dish& dish, const dish::Facet& facet) {
  const base::Mat3 board = base::frame_of_board(dish.receiver.lit_normal, dish.receiver.up);
  return dish.receiver.centre_m + facet.aim_m.x * board[0] + facet.aim_m.y * board[1];
}

Result<Vec3> direction_to_target(const dish::Dish& dish, const Vec3& centre, const Vec3& target) {
  const auto mirror = mirror_of(dish);
  if (!mirror) return mirror.problems();
  return direction_by_way_of(mirror.value(), centre, target);
}

Result<adjusters::FacePose> nominal_pose(const dish::Dish& dish, const dish::Facet& facet) {
  const auto mirror = mirror_of(dish);
  if (!mirror) return mirror.problems();
  return pose_of(mirror.value(), dish, facet);
}

Result<std::vector<adjusters::FacePose>> nominal_poses(const dish::Dish& dish) {
  const auto mirror = mirror_of(dish);
  if (!mirror) return mirror.problems();
  std::vector<adjusters::FacePose> poses;
  poses.reserve(dish.facets.size());
  Problems problems;
  for (const dish::Facet& facet : dish.facets) {
    const auto pose = pose_of(mirror.value(), dish, facet);
    if (pose) {
      poses.push_back(pose.value());
    } else {
      problems.push_back(pose.problems().front());
    }
  }
  if (!problems.empty()) return problems;
  return poses;
}

Result<adjusters::FacePose> built_pose(const dish::Dish& dish, const dish::Facet& facet) {
  const auto nominal = nominal_pose(dish, facet);
  if (!nominal) return nominal.problems();
  return displaced(dish, facet, nominal.value());
}

Result<adjusters::FacePose> displaced(const dish::Dish& dish, const dish::Facet& facet,
                                      const adjusters::FacePose& nominal) {
  // Where no screw was moved the facet stands at nominal, with or without a mount.
  const auto& moved = facet.displacement_m;
  if (moved[0] == 0.0 && moved[1] == 0.0 && moved[2] == 0.0) return nominal;
  const auto bracket = adjusters::bracket_of(facet, dish::find_mount(dish, facet.mount), nominal);
  if (!bracket) return bracket.problems();
  return adjusters::displaced_pose(bracket.value(), nominal, moved);
}

}  // namespace optics
