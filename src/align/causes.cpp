// Perturbations of source, board and facets, and the modes they make.
#include "align/causes.h"

#include <array>
#include <cmath>
#include <functional>

namespace align {
namespace {

using adjusters::FacePose;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr double k_probe = 1e-5;  ///< rad, m or 1/m

/// The source with a further pointing error; a laser along the axis tilts like a sun.
dish::Source tilted(const dish::Source& source, const Vec2& error_rad) {
  if (const auto* sun = std::get_if<dish::SunSource>(&source)) {
    return dish::SunSource{sun->tracking_error_rad + error_rad};
  }
  if (const Vec3* point = dish::point_of(source)) {
    return dish::moved_to(source, *point + Vec3(point->z * error_rad, 0.0));
  }
  return dish::SunSource{error_rad};
}

/// One cause at a strength: how it changes the sighting, and each facet's pose.
struct Cause {
  std::function<Sighting(double)> sighting;
  std::function<FacePose(const FacePose&, double)> pose;
};

using Modes = std::array<double, k_modes>;

Result<Modes> response_to(const dish::Dish& dish, const Measured& measured, const Cause& cause) {
  const Sighting plus = cause.sighting(k_probe);
  const Sighting minus = cause.sighting(-k_probe);
  std::vector<Vec2> moved;
  moved.reserve(measured.facets.size());
  for (std::size_t i = 0; i < measured.facets.size(); ++i) {
    const dish::Facet& facet = dish.facets[measured.facets[i]];
    const auto there = expected_mark(dish, facet, cause.pose(measured.nominal[i], k_probe), plus);
    const auto back = expected_mark(dish, facet, cause.pose(measured.nominal[i], -k_probe), minus);
    Vec2 rate{0.0, 0.0};
    if (there && back) {
      rate = (there.value().board_m - back.value().board_m) / (2.0 * k_probe);
    }
    moved.push_back(sunward_from_board(plus.dish_from_board, rate));
  }
  const auto fit = fit_modes(measured.places_m, moved, Estimator::least_squares);
  if (!fit) return fit.problems();
  return fit.value().value;
}

FacePose unchanged(const FacePose& pose, double) { return pose; }

FacePose clocked(const FacePose& pose, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  const Vec3& at = pose.centre;
  return {{c * at.x - s * at.y, s * at.x + c * at.y, at.z}, pose.normal};
}

/// The normal whose slopes are changed by `slopes`, its components over n_z.
Vec3 with_slopes(const Vec3& normal, const Vec2& slopes) {
  return base::unit(normal / normal.z + Vec3(slopes, 0.0));
}

FacePose bent(const FacePose& pose, double bend) {
  const Vec3& at = pose.centre;
  return {at, with_slopes(pose.normal, bend * Vec2(-at.x, at.y))};
}

FacePose bent_45(const FacePose& pose, double bend) {
  const Vec3& at = pose.centre;
  return {at, with_slopes(pose.normal, bend * Vec2(-at.y, -at.x))};
}

}  // namespace

base::Mat3 sunward_axes(const base::Pose& dish_from_board) {
  const Vec3 lit = dish_from_board.z();
  return base::frame_of_normal(lit.z < 0.0 ? -lit : lit);
}

Vec2 sunward_from_board(const base::Pose& dish_from_board, const Vec2& board_m) {
  const base::Mat3 axes = sunward_axes(dish_from_board);
  const Vec3 shift = base::direction_to_outer(dish_from_board, {board_m.x, board_m.y, 0.0});
  return {glm::dot(shift, axes[0]), glm::dot(shift, axes[1])};
}

Vec2 board_from_sunward(const base::Pose& dish_from_board, const Vec2& sunward_m) {
  const base::Mat3 axes = sunward_axes(dish_from_board);
  const Vec3 shift = sunward_m.x * axes[0] + sunward_m.y * axes[1];
  const Vec3 on_board = base::direction_to_inner(dish_from_board, shift);
  return {on_board.x, on_board.y};
}

Result<Responses> responses_of(const dish::Dish& dish, const Measured& measured,
                               const Sighting& sighting) {
  const auto same = [&](double) { return sighting; };
  const auto sun_off = [&](const Vec2& direction) {
    return [&sighting, direction](double strength) {
      Sighting off = sighting;
      off.source = tilted(sighting.source, strength * direction);
      return off;
    };
  };
  const auto farther = [&](double strength) {
    Sighting moved = sighting;
    moved.dish_from_board.origin -= strength * sighting.dish_from_board.z();
    return moved;
  };
  const std::array<Cause, 6> causes{Cause{sun_off({1.0, 0.0}), unchanged},
                                    Cause{sun_off({0.0, 1.0}), unchanged},
                                    Cause{farther, unchanged},
                                    Cause{same, clocked},
                                    Cause{same, bent},
                                    Cause{same, bent_45}};
  std::array<Modes, 6> modes{};
  for (std::size_t k = 0; k < causes.size(); ++k) {
    const auto found = response_to(dish, measured, causes[k]);
    if (!found) return found.problems();
    modes[k] = found.value();
  }
  const auto of = [](const Modes& m, Mode mode) { return m[static_cast<std::size_t>(mode)]; };
  return Responses{.shift_per_boresight = {modes[0][0], modes[0][1], modes[1][0], modes[1][1]},
                   .radial_per_distance = of(modes[2], Mode::radial),
                   .swirl_per_clocking = of(modes[3], Mode::swirl),
                   .saddle_per_bend_m = of(modes[4], Mode::saddle),
                   .saddle_45_per_bend_m = of(modes[5], Mode::saddle_45)};
}

}  // namespace align
