// Differences of the exact forward model.
#include "align/response.h"

#include <Eigen/Dense>

#include <cmath>

namespace align {
namespace {

using base::Result;
using base::Vec2;

constexpr double k_probe_rise_m = 1e-5;  ///< error of central differences: 1e-10 relative

double height_on(const adjusters::ScrewPlane& plane, const Vec2& seat) {
  return plane.height0_m + plane.alpha * seat.x + plane.beta * seat.y;
}

/// Where the screws really stand.
std::array<Vec2, 3> seats_of(const adjusters::Bracket& bracket, const Wiring& wiring) {
  std::array<Vec2, 3> seats = bracket.seats_m;
  for (Vec2& seat : seats) {
    seat = bracket.foot_m + place_under(wiring, seat - bracket.foot_m);
  }
  return seats;
}

}  // namespace

Vec2 place_under(const Wiring& wiring, const Vec2& from_foot) {
  const double x = wiring.frame_mirrored ? -from_foot.x : from_foot.x;
  const double c = std::cos(wiring.frame_turn_rad);
  const double s = std::sin(wiring.frame_turn_rad);
  return {c * x - s * from_foot.y, s * x + c * from_foot.y};
}

Result<Response> response_of(const FacetSetup& setup, const Sighting& sighting,
                             const std::array<double, 3>& displacement_m, const Wiring& wiring) {
  const auto plane = adjusters::plane_through(setup.bracket, setup.heights_at(displacement_m));
  adjusters::Bracket bracket = setup.bracket;
  if (wiring.frame_turn_rad != 0.0 || wiring.frame_mirrored) {
    bracket.seats_m = seats_of(bracket, wiring);
  }
  adjusters::Heights heights{};
  for (std::size_t k = 0; k < 3; ++k) heights[k] = height_on(plane, bracket.seats_m[k]);
  Response response{};
  for (std::size_t k = 0; k < 3; ++k) {
    std::array<Vec2, 2> marks{};
    for (std::size_t side = 0; side < 2; ++side) {
      adjusters::Heights moved = heights;
      moved[k] += side == 0 ? k_probe_rise_m : -k_probe_rise_m;
      const auto mark = expected_mark(*setup.dish, *setup.facet,
                                      adjusters::pose_from_heights(bracket, moved), sighting);
      if (!mark) return mark.problems();
      marks[side] = mark.value().board_m;
    }
    const double rise = setup.rise_per_turn_m[k] * wiring.lead_factor;
    response[k] = (marks[0] - marks[1]) * (rise / (2.0 * k_probe_rise_m));
  }
  return rewired(response, wiring);
}

Response rewired(const Response& nominal, const Wiring& wiring) {
  Response response{};
  for (std::size_t k = 0; k < 3; ++k) {
    response[k] = static_cast<double>(wiring.sense[k]) * nominal[wiring.moves[k]];
  }
  return response;
}

Vec2 shift_of_turns(const Response& response, const Turns& turns) {
  Vec2 shift{0.0, 0.0};
  for (std::size_t k = 0; k < 3; ++k) shift += turns[k] * response[k];
  return shift;
}

RisePerTurn rise_per_turn_of(const std::array<double, 3>& nominal_rise_m, const Response& nominal,
                             const Response& learned) {
  Eigen::Matrix<double, 2, 3> per_rise;
  Eigen::Matrix<double, 2, 3> excess;
  for (int k = 0; k < 3; ++k) {
    for (int axis = 0; axis < 2; ++axis) {
      per_rise(axis, k) = nominal[k][axis] / nominal_rise_m[k];
      excess(axis, k) = learned[k][axis] - nominal[k][axis];
    }
  }
  const Eigen::Matrix2d square = per_rise * per_rise.transpose();
  const Eigen::Matrix3d more = per_rise.transpose() * square.inverse() * excess;
  RisePerTurn rise{};
  for (int corner = 0; corner < 3; ++corner) {
    for (int k = 0; k < 3; ++k) {
      rise[corner][k] = (corner == k ? nominal_rise_m[k] : 0.0) + more(corner, k);
    }
  }
  return rise;
}

}  // namespace align
