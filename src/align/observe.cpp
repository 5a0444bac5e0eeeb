// The chief ray from source to board, forward and back.
#include "align/observe.h"

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>
#include <variant>

#include "base/units.h"
#include "optics/canting.h"
#include "optics/outline.h"
#include "optics/secondary_mirror.h"

namespace align {
namespace {

using base::Problem;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr double k_least_way_m = 1e-9;

std::string place_of(const dish::Facet& facet) { return "facets/" + facet.id.text; }

std::string spot_text(const Vec2& seen_m) {
  return fmt::format("a spot at {:.1f} mm right, {:.1f} mm up", base::mm_from_m(seen_m.x),
                     base::mm_from_m(seen_m.y));
}

double facet_radius(const dish::Dish& dish, const dish::Facet& facet) {
  const dish::FacetType* type = dish::find_facet_type(dish, facet.type);
  if (type == nullptr) return 0.0;
  const auto edge = optics::make_edge(type->outline, place_of(facet));
  return edge ? edge.value().bounding_radius_m : 0.0;
}

Result<std::optional<optics::SecondaryMirror>> mirror_of(const dish::Dish& dish,
                                                         const Sighting& sighting) {
  if (!dish.secondary || !sighting.secondary_in_place) {
    return std::optional<optics::SecondaryMirror>{};
  }
  auto mirror = optics::secondary_mirror(*dish.secondary);
  if (!mirror) return mirror.problems();
  return std::optional<optics::SecondaryMirror>{std::move(mirror).value()};
}

/// Distance to the board's plane when the ray arrives on its lit side.
std::optional<double> distance_to_board(const base::Pose& board, const Vec3& origin,
                                        const Vec3& direction) {
  const double falling = -glm::dot(direction, board.z());
  if (!(falling > 1e-12)) return std::nullopt;
  const double distance = glm::dot(origin - board.origin, board.z()) / falling;
  if (!(distance > k_least_way_m)) return std::nullopt;
  return distance;
}

struct SourceName {
  std::string operator()(const dish::SunSource&) const { return "the sun"; }
  std::string operator()(const dish::LaserSource&) const { return "a laser"; }
  std::string operator()(const dish::LampSource&) const { return "a lamp"; }
  std::string operator()(const dish::AimedLaserSource&) const { return "a laser"; }
  std::string operator()(const dish::CameraSource&) const { return "a camera"; }
};

Mark mark_at(const base::Pose& board, const Vec3& point, bool by_secondary) {
  const Vec3 on_board = base::point_to_inner(board, point);
  return {{on_board.x, on_board.y}, point, by_secondary};
}

/// A source that stands in the facet itself has no direction.
std::optional<Problem> problem_of_source(const dish::Facet& facet, const Sighting& sighting,
                                         const Vec3& centre) {
  const Vec3* point = dish::point_of(sighting.source);
  if (point == nullptr || glm::distance(*point, centre) > k_least_way_m) return std::nullopt;
  const std::string what = std::visit(SourceName{}, sighting.source);
  return Problem{place_of(facet), what + " in the facet's own centre", what + " away from it"};
}

/// Where the light that leaves `centre` meets the secondary, if it meets it near enough.
std::optional<optics::SecondaryHit> meeting(const optics::SecondaryMirror& mirror,
                                            const Vec3& centre, const Vec3& direction,
                                            double facet_radius_m) {
  auto hit = optics::hit_mirror_side(mirror, centre, direction);
  if (!hit || hit->rim_distance_m > mirror.rim_radius_m + facet_radius_m) return std::nullopt;
  return hit;
}

/// Direction in which light must leave the facet to reach the spot, directly or off the secondary.
Result<Vec3> direction_to_spot(const dish::Dish& dish, const dish::Facet& facet, const Vec3& centre,
                               const Sighting& sighting, const Vec3& spot, const Problem& off) {
  const auto mirror = mirror_of(dish, sighting);
  if (!mirror) return mirror.problems();
  const base::Pose& board = sighting.dish_from_board;
  const bool faces_board = glm::dot(centre - board.origin, board.z()) > k_least_way_m;
  if (mirror.value()) {
    // By way of the secondary, when it throws its light on the lit side.
    const auto direction = optics::direction_to_target(dish, centre, spot);
    if (direction) {
      const auto hit =
          meeting(*mirror.value(), centre, direction.value(), facet_radius(dish, facet));
      const bool lit = hit && glm::dot(hit->point - board.origin, board.z()) > k_least_way_m;
      const auto before = distance_to_board(board, centre, direction.value());
      if (lit && !(before && *before < hit->distance)) return direction.value();
    }
    if (faces_board) {
      const Vec3 direct = base::unit(spot - centre);
      if (!optics::is_stopped_by(*mirror.value(), centre, direct, k_least_way_m,
                                 glm::distance(spot, centre))) {
        return direct;
      }
    }
    return Problem{off.place, off.value, "a spot that light can reach by way of the secondary"};
  }
  if (!faces_board) {
    return Problem{off.place, off.value, "a board whose lit side faces this facet"};
  }
  return base::unit(spot - centre);
}

}  // namespace

Sighting sighting_of(const dish::Dish& dish, const dish::Round& round, bool secondary_in_place) {
  Sighting sighting{.source = round.source, .secondary_in_place = secondary_in_place};
  if (round.board) {
    const Vec3 lit = base::unit(round.board->lit_normal);
    sighting.dish_from_board = {round.board->centre_m, base::frame_of_board(lit, round.board->up)};
  } else {
    const Vec3 lit = base::unit(dish.receiver.lit_normal);
    sighting.dish_from_board = {dish.receiver.centre_m,
                                base::frame_of_board(lit, dish.receiver.up)};
  }
  return sighting;
}

Vec3 direction_to_source(const dish::Source& source, const Vec3& centre) {
  if (const Vec3* point = dish::point_of(source)) return base::unit(*point - centre);
  if (const auto* sun = std::get_if<dish::SunSource>(&source)) {
    return base::unit({sun->tracking_error_rad.x, sun->tracking_error_rad.y, 1.0});
  }
  return {0.0, 0.0, 1.0};
}

Result<Mark> expected_mark(const dish::Dish& dish, const dish::Facet& facet,
                           const adjusters::FacePose& pose, const Sighting& sighting) {
  const std::string place = place_of(facet);
  if (auto problem = problem_of_source(facet, sighting, pose.centre)) return *std::move(problem);
  const Vec3 to_source = direction_to_source(sighting.source, pose.centre);
  if (!(glm::dot(to_source, pose.normal) > 1e-6)) {
    return Problem{place, "light from behind", "a source on the mirror side of the facet"};
  }
  const auto mirror = mirror_of(dish, sighting);
  if (!mirror) return mirror.problems();

  // Reflect at the facet; whichever comes first, board or secondary, takes the light.
  const Vec3 leaving = base::reflect(-to_source, pose.normal);
  const base::Pose& board = sighting.dish_from_board;
  const auto direct = distance_to_board(board, pose.centre, leaving);
  if (mirror.value()) {
    const auto hit = meeting(*mirror.value(), pose.centre, leaving, facet_radius(dish, facet));
    if (hit && !(direct && *direct < hit->distance)) {
      const Vec3 arriving = base::reflect(leaving, hit->normal);
      const auto onward = distance_to_board(board, hit->point, arriving);
      if (!onward) {
        return Problem{place, "light that leaves the secondary away from the board's lit side",
                       "a board that faces the secondary"};
      }
      return mark_at(board, hit->point + *onward * arriving, true);
    }
    if (!direct) {
      return Problem{place, "light that misses the secondary",
                     "a facet that stands near enough to its nominal tilt"};
    }
  }
  if (!direct) {
    return Problem{place, "light that leaves the facet away from the board's lit side",
                   "a board that faces the facet"};
  }
  return mark_at(board, pose.centre + *direct * leaving, false);
}

Result<Vec3> normal_from_spot(const dish::Dish& dish, const dish::Facet& facet,
                              const Vec3& nominal_normal, const Vec3& centre,
                              const Sighting& sighting, const Vec2& seen_m) {
  if (auto problem = problem_of_source(facet, sighting, centre)) return *std::move(problem);
  const Problem off{place_of(facet), spot_text(seen_m), ""};
  if (!(std::isfinite(seen_m.x) && std::isfinite(seen_m.y))) {
    return Problem{off.place, off.value, "two numbers"};
  }
  const Vec3 spot = base::point_to_outer(sighting.dish_from_board, {seen_m.x, seen_m.y, 0.0});
  if (!(glm::distance(spot, centre) > k_least_way_m)) {
    return Problem{off.place, off.value, "a spot away from the facet itself"};
  }
  const auto direction = direction_to_spot(dish, facet, centre, sighting, spot, off);
  if (!direction) return direction.problems();
  const Vec3 both = direction.value() + direction_to_source(sighting.source, centre);
  if (!(glm::length(both) > 1e-6)) {
    return Problem{off.place, off.value, "a spot that is not straight behind the facet"};
  }
  const Vec3 normal = base::unit(both);
  const double tilt =
      std::atan2(glm::length(glm::cross(normal, nominal_normal)), glm::dot(normal, nominal_normal));
  if (tilt > k_most_tilt_rad) {
    return Problem{
        off.place,
        fmt::format("{}, which asks for a tilt of {:.0f} degrees", off.value,
                    base::deg_from_rad(tilt)),
        fmt::format("a spot within {:.0f} degrees of nominal: check the facet, the unit and the "
                    "board",
                    base::deg_from_rad(k_most_tilt_rad))};
  }
  return normal;
}

Result<Vec3> desired_normal(const dish::Dish& dish, const dish::Facet& facet, const Vec3& centre) {
  dish::Facet moved = facet;
  moved.centre_m = centre;
  const auto pose = optics::nominal_pose(dish, moved);
  if (!pose) return pose.problems();
  return pose.value().normal;
}

}  // namespace align
