// The exact plane through three screw ends, and the brackets they stand on.
#include "adjusters/screws.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace adjusters {
namespace {

using base::Problem;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr double k_least_lever_share = 0.01;  ///< of the longest distance between two screws
constexpr double k_least_facing = 1e-3;       ///< cosine between a bracket's axis and its facet

double cross(const Vec2& a, const Vec2& b) { return a.x * b.y - a.y * b.x; }

/// Least height of the triangle over its longest side, as a share of that side; 0 when in a line.
double lever_share(const std::array<Vec2, 3>& seats) {
  const double longest =
      std::max({glm::distance(seats[0], seats[1]), glm::distance(seats[1], seats[2]),
                glm::distance(seats[2], seats[0])});
  if (!(longest > 0.0)) return 0.0;
  return std::abs(cross(seats[1] - seats[0], seats[2] - seats[0])) / (longest * longest);
}

Result<base::Pose> own_lie(const std::string& place, const dish::Bracket& bracket) {
  const Vec3 axis = glm::cross(bracket.x, bracket.y);
  const double size = glm::length(bracket.x) * glm::length(bracket.y);
  if (!(glm::length(axis) > 1e-6 * size)) {
    return Problem{place + "/bracket",
                   fmt::format("x = ({}, {}, {}), y = ({}, {}, {})", bracket.x.x, bracket.x.y,
                               bracket.x.z, bracket.y.x, bracket.y.y, bracket.y.z),
                   "two directions that are neither zero nor parallel"};
  }
  const Vec3 x = base::unit(bracket.x);
  const Vec3 z = base::unit(axis);
  return base::Pose{bracket.origin_m, {x, glm::cross(z, x), z}};
}

base::Pose lie_of_mount(const dish::Facet& facet, const dish::Mount& mount,
                        const FacePose& nominal) {
  const Vec3 axis = mount.lie == dish::BracketLie::facet ? nominal.normal : Vec3{0.0, 0.0, 1.0};
  const double depth = mount.face_offset_m + mount.standoff_m;
  return {nominal.centre - depth * axis, base::frame_of_normal(axis, facet.clocking_rad)};
}

/// Problems of the adjusters themselves, wherever the bracket lies.
base::Problems problems_of(const std::string& place, const dish::Mount& mount) {
  base::Problems problems;
  const std::string holder = fmt::format("{} on mount \"{}\"", place, mount.name.text);
  if (mount.adjusters.size() != 3) {
    problems.push_back({holder, fmt::format("{} adjusters", mount.adjusters.size()),
                        "exactly three: they define the facet's plane"});
    return problems;
  }
  std::array<Vec2, 3> seats{};
  for (std::size_t k = 0; k < 3; ++k) {
    const dish::Adjuster& adjuster = mount.adjusters[k];
    seats[k] = {adjuster.x_m, adjuster.y_m};
    if (!(adjuster.pitch_m > 0.0 && std::isfinite(adjuster.pitch_m))) {
      problems.push_back({fmt::format("{}, screw \"{}\"", holder, adjuster.label),
                          fmt::format("a pitch of {} mm", adjuster.pitch_m * 1e3),
                          "a pitch above zero: without one no turn moves the facet"});
    }
  }
  if (!(lever_share(seats) >= k_least_lever_share)) {
    problems.push_back({holder, "three adjusters in a line",
                        "a triangle whose height is at least 1 % of its longest side"});
  }
  return problems;
}

Vec2 foot_of(const base::Pose& dish_from_bracket, double face_offset, const FacePose& pose) {
  const Vec3 foot =
      base::point_to_inner(dish_from_bracket, pose.centre - face_offset * pose.normal);
  return {foot.x, foot.y};
}

FacePose pose_over(const Bracket& bracket, const ScrewPlane& plane, const Vec2& foot) {
  const double a = plane.alpha;
  const double b = plane.beta;
  const Vec3 normal_bracket = Vec3(-a, -b, 1.0) / std::sqrt(1.0 + a * a + b * b);
  const Vec3 normal = base::direction_to_outer(bracket.dish_from_bracket, normal_bracket);
  const Vec3 foot_bracket{foot.x, foot.y, plane.height0_m + a * foot.x + b * foot.y};
  return {base::point_to_outer(bracket.dish_from_bracket, foot_bracket) +
              bracket.face_offset_m * normal,
          normal};
}

}  // namespace

Result<Bracket> bracket_of(const dish::Facet& facet, const dish::Mount* mount,
                           const FacePose& nominal) {
  const std::string place = "facets/" + facet.id.text;
  if (mount == nullptr) {
    return facet.mount.text.empty()
               ? Problem{place + "/mount", "none", "a mount: without one the facet has no screws"}
               : Problem{place + "/mount", fmt::format("\"{}\"", facet.mount.text),
                         "the name of a mount of this dish"};
  }
  base::Problems problems = problems_of(place, *mount);
  if (!problems.empty()) return problems;

  Bracket bracket{.dish_from_bracket = lie_of_mount(facet, *mount, nominal),
                  .face_offset_m = mount->face_offset_m};
  if (facet.bracket) {
    const auto own = own_lie(place, *facet.bracket);
    if (!own) return own.problems();
    bracket.dish_from_bracket = own.value();
  }
  const double facing = glm::dot(bracket.dish_from_bracket.z(), nominal.normal);
  if (!(facing > k_least_facing)) {
    return Problem{place + "/bracket",
                   fmt::format("an axis {:.1f} degrees from the facet's normal",
                               base::deg_from_rad(std::acos(std::clamp(facing, -1.0, 1.0)))),
                   "an axis on the facet's mirror side, less than 90 degrees from its normal"};
  }
  for (std::size_t k = 0; k < 3; ++k) {
    bracket.seats_m[k] = {mount->adjusters[k].x_m, mount->adjusters[k].y_m};
  }
  bracket.foot_m = foot_of(bracket.dish_from_bracket, bracket.face_offset_m, nominal);
  return bracket;
}

ScrewPlane plane_through(const Bracket& bracket, const Heights& heights_m) {
  const Vec2 first = bracket.seats_m[1] - bracket.seats_m[0];
  const Vec2 second = bracket.seats_m[2] - bracket.seats_m[0];
  const double area = cross(first, second);
  CHECK(area != 0.0, "a bracket is made with three screws that are not in a line");
  const double rise_first = heights_m[1] - heights_m[0];
  const double rise_second = heights_m[2] - heights_m[0];
  const double alpha = (rise_first * second.y - rise_second * first.y) / area;
  const double beta = (rise_second * first.x - rise_first * second.x) / area;
  return {heights_m[0] - alpha * bracket.seats_m[0].x - beta * bracket.seats_m[0].y, alpha, beta};
}

FacePose pose_from_plane(const Bracket& bracket, const ScrewPlane& plane) {
  return pose_over(bracket, plane, bracket.foot_m);
}

FacePose pose_from_heights(const Bracket& bracket, const Heights& heights_m) {
  return pose_from_plane(bracket, plane_through(bracket, heights_m));
}

Heights heights_from_pose(const Bracket& bracket, const FacePose& pose) {
  const base::Pose& frame = bracket.dish_from_bracket;
  const Vec3 n = base::direction_to_inner(frame, pose.normal);
  CHECK(n.z > 0.0, "a facet leans less than 90 degrees from its bracket's axis");
  const double level =
      glm::dot(pose.centre - bracket.face_offset_m * pose.normal - frame.origin, pose.normal);
  Heights heights{};
  for (std::size_t k = 0; k < 3; ++k) {
    heights[k] = (level - bracket.seats_m[k].x * n.x - bracket.seats_m[k].y * n.y) / n.z;
  }
  return heights;
}

Vec2 slopes_of_normal(const Bracket& bracket, const Vec3& normal) {
  const Vec3 n = base::direction_to_inner(bracket.dish_from_bracket, normal);
  CHECK(n.z > 0.0, "a facet leans less than 90 degrees from its bracket's axis");
  return {-n.x / n.z, -n.y / n.z};
}

FacePose displaced_pose(const Bracket& bracket, const FacePose& nominal,
                        const std::array<double, 3>& displacement_m) {
  Heights heights = heights_from_pose(bracket, nominal);
  for (std::size_t k = 0; k < 3; ++k) heights[k] += displacement_m[k];
  return pose_over(bracket, plane_through(bracket, heights),
                   foot_of(bracket.dish_from_bracket, bracket.face_offset_m, nominal));
}

double rise_per_turn_m(const dish::Adjuster& adjuster) {
  const double hand = adjuster.hand == dish::Hand::right ? 1.0 : -1.0;
  const double view = adjuster.turned_from == dish::Side::back ? 1.0 : -1.0;
  const double carry = adjuster.carry == dish::Carry::with ? 1.0 : -1.0;
  return hand * view * carry * adjuster.pitch_m;
}

}  // namespace adjusters
