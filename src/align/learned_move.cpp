// The convention for the third freedom serves here too, once rises are scaled by the null vector.
#include "align/learned_move.h"

#include <cmath>

#include "align/screw_filter.h"

namespace align {
namespace {

/// A null vector of rises this uneven means that a column is wrong, not a lever arm.
constexpr double k_least_learned_share = 0.3;

/// Shares of the corners in the foot's height, which sum to 1.
std::array<double, 3> foot_shares(const adjusters::Bracket& bracket) {
  std::array<double, 3> shares{};
  for (std::size_t k = 0; k < 3; ++k) {
    adjusters::Heights one{};
    one[k] = 1.0;
    const auto plane = adjusters::plane_through(bracket, one);
    shares[k] = plane.height0_m + plane.alpha * bracket.foot_m.x + plane.beta * bracket.foot_m.y;
  }
  return shares;
}

double foot_rise(const std::array<double, 3>& shares, const RisePerTurn& rise, const Turns& turns) {
  double sum = 0.0;
  for (std::size_t corner = 0; corner < 3; ++corner) {
    for (std::size_t k = 0; k < 3; ++k) sum += shares[corner] * rise[corner][k] * turns[k];
  }
  return sum;
}

}  // namespace

Response with_learned(const Response& nominal, const LearnedScrews& learned) {
  Response response{};
  for (std::size_t k = 0; k < 3; ++k) {
    const base::Vec2 across{-nominal[k].y, nominal[k].x};
    response[k] = learned.along[k] * nominal[k] + learned.across[k] * across;
  }
  return response;
}

std::optional<LearnedMove> learned_move(const FacetSetup& setup, const Sighting& sighting,
                                        const Planes& planes, const SolveRequest& request,
                                        const LearnedScrews& learned) {
  const auto& lead = setup.rise_per_turn_m;
  std::array<double, 3> half_way{};
  Turns nominal_turns{};
  for (std::size_t k = 0; k < 3; ++k) {
    half_way[k] = planes.now_m[k] - setup.nominal_heights_m[k] + 0.5 * planes.rise_m[k];
    nominal_turns[k] = planes.rise_m[k] / lead[k];
  }
  const auto nominal = response_of(setup, sighting, half_way);
  if (!nominal) return std::nullopt;
  const Response response = with_learned(nominal.value(), learned);
  Turns turns{};
  if (!fewest_turns(response, shift_of_turns(nominal.value(), nominal_turns), turns)) {
    return std::nullopt;
  }
  // Null vector in rises, of mean 1: the same for all three when the screws are as in the file.
  const auto cross = [&](std::size_t i, std::size_t k) {
    return response[i].x * response[k].y - response[i].y * response[k].x;
  };
  std::array<double, 3> share{cross(1, 2) * lead[0], cross(2, 0) * lead[1], cross(0, 1) * lead[2]};
  const double mean = (share[0] + share[1] + share[2]) / 3.0;
  for (double& value : share) {
    value /= mean;
    if (!(value > k_least_learned_share)) return std::nullopt;
  }

  LearnedMove move{.rise_per_turn_m = rise_per_turn_of(lead, nominal.value(), response)};
  const auto shares = foot_shares(setup.bracket);
  const Turns null{share[0] / lead[0], share[1] / lead[1], share[2] / lead[2]};
  const double rise_of_null = foot_rise(shares, move.rise_per_turn_m, null);
  if (!(std::abs(rise_of_null) > 1e-6)) return std::nullopt;
  const double along_null = -foot_rise(shares, move.rise_per_turn_m, turns) / rise_of_null;
  PistonQuestion question = piston_question(setup, request, planes.now_m);
  for (std::size_t k = 0; k < 3; ++k) {
    question.rise_m[k] = (turns[k] + along_null * null[k]) * lead[k] / share[k];
    question.lead_m[k] /= share[k];
    question.now_m[k] /= share[k];
    question.range[k] = {question.range[k].least / share[k], question.range[k].most / share[k]};
  }
  move.piston = choose_piston(question);
  for (std::size_t k = 0; k < 3; ++k) {
    move.rise_m[k] = (question.rise_m[k] + move.piston.chosen_m) * share[k];
  }
  return move;
}

}  // namespace align
