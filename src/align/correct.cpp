// From exact planes to told clicks, with their noise and a verdict.
#include "align/correct.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "align/facet_setup.h"
#include "align/learned_move.h"
#include "align/solve.h"
#include "base/check.h"
#include "base/units.h"

namespace align {
namespace {

using adjusters::FacePose;
using adjusters::Heights;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr double k_probe_m = 1e-6;  ///< for derivatives: small against spots, large against 1e-12
constexpr double k_most_misfit = 4.0;

double angle_between(const Vec3& a, const Vec3& b) {
  return std::atan2(glm::length(glm::cross(a, b)), glm::dot(a, b));
}

/// Everything one correction needs, gathered.
struct Work {
  FacetSetup setup;
  Sighting sighting;
  Observation observation;
  Evidence evidence;
  CorrectionRequest request;
  SolveRequest solve;
  Planes planes;
  int clicks_per_turn = 12;
  std::array<int, 3> clicks{};
  std::array<double, 3> lost_turns{};  ///< of the clicks, what only takes up play
  std::optional<LearnedMove> learned;
  Heights after_m{};  ///< displacements from nominal
};

Result<Vec2> mark_of(const Work& work, const FacePose& pose) {
  const auto mark = expected_mark(*work.setup.dish, *work.setup.facet, pose, work.sighting);
  if (!mark) return mark.problems();
  return mark.value().board_m;
}

/// What the reading's own uncertainty does.
struct ReadingNoise {
  std::array<double, 3> rise_m{};
  double tilt_rad = 0.0;  ///< rms of both axes together
};

/// Derivatives of the exact rises and of the normal by the reading, times its one-sigma steps.
Result<ReadingNoise> reading_noise(const Work& work) {
  std::array<Vec2, 3> rise_per_step{};
  std::array<Vec3, 2> normal_per_step{};
  for (int axis = 0; axis < 2; ++axis) {
    Vec2 step{0.0, 0.0};
    step[axis] = k_probe_m;
    double per_step = 1.0 / k_probe_m;
    auto moved = solve_planes(work.setup, work.evidence, step, work.solve);
    if (!moved) {
      // At the edge of what can be solved the other side serves.
      moved = solve_planes(work.setup, work.evidence, -step, work.solve);
      per_step = -per_step;
    }
    if (!moved) return moved.problems();
    for (std::size_t k = 0; k < 3; ++k) {
      rise_per_step[k][axis] = (moved.value().rise_m[k] - work.planes.rise_m[k]) * per_step;
    }
    normal_per_step[static_cast<std::size_t>(axis)] =
        (moved.value().actual.normal - work.planes.actual.normal) * per_step;
  }
  const base::Mat2& sigma = work.evidence.one_sigma;
  ReadingNoise noise;
  for (std::size_t k = 0; k < 3; ++k) noise.rise_m[k] = glm::length(rise_per_step[k] * sigma);
  double squares = 0.0;
  for (int column = 0; column < 2; ++column) {
    const Vec3 moved = sigma[column].x * normal_per_step[0] + sigma[column].y * normal_per_step[1];
    squares += glm::dot(moved, moved);
  }
  noise.tilt_rad = std::sqrt(squares);
  return noise;
}

/// Turns that only take up play, signed as the screw is turned: of those that have no spring to end
/// against.
std::array<double, 3> lost_turns(const Work& work) {
  std::array<double, 3> lost{};
  if (adjusters::loading_direction(work.setup.spring) != 0) return lost;
  for (std::size_t k = 0; k < 3; ++k) {
    const double turns = work.planes.rise_m[k] / work.setup.rise_per_turn_m[k];
    const bool is_told = std::abs(turns) * work.clicks_per_turn >= 0.5;
    if (!is_told) continue;
    const PlayAhead& ahead = work.request.play.ahead[k];
    lost[k] = turns > 0.0 ? ahead.clockwise : -ahead.anticlockwise;
  }
  return lost;
}

void round_clicks(Work& work) {
  adjusters::ClickQuestion question{.bracket = work.setup.bracket,
                                    .rise_per_turn_m = work.setup.rise_per_turn_m,
                                    .rise_m = work.planes.rise_m,
                                    .range = work.setup.range,
                                    .clicks_per_turn = work.clicks_per_turn};
  work.lost_turns = lost_turns(work);
  Heights before{};
  for (std::size_t k = 0; k < 3; ++k) {
    before[k] = work.planes.now_m[k] - work.setup.nominal_heights_m[k];
    const double lost_m = work.lost_turns[k] * work.setup.rise_per_turn_m[k];
    question.now_m[k] = before[k] - lost_m;
    question.rise_m[k] += lost_m;
  }
  work.clicks = adjusters::round_to_clicks(question).clicks;
  for (std::size_t k = 0; k < 3; ++k) {
    work.after_m[k] =
        question.now_m[k] + work.clicks[k] * work.setup.rise_per_turn_m[k] / work.clicks_per_turn;
  }
  if (!work.learned) return;
  // What the told clicks really do, each screw to all three corners.
  for (std::size_t corner = 0; corner < 3; ++corner) {
    work.after_m[corner] = before[corner];
    for (std::size_t k = 0; k < 3; ++k) {
      const double rise_per_turn = work.learned->rise_per_turn_m[corner][k];
      work.after_m[corner] += rise_per_turn * work.clicks[k] / work.clicks_per_turn;
      work.after_m[corner] -= rise_per_turn * work.lost_turns[k];
    }
  }
}

/// How the move should end, or begin.
adjusters::Finish finish_of_screw(const Work& work, std::size_t k) {
  const int lost = static_cast<int>(std::lround(work.lost_turns[k] * work.clicks_per_turn));
  if (lost != 0) {
    return {.text = fmt::format("play takes the first {} of it",
                                adjusters::amount_text(std::abs(lost), work.clicks_per_turn))};
  }
  return adjusters::finish_of(
      {.adjuster = &work.setup.mount->adjusters[k],
       .spring = work.setup.spring,
       .backlash_turns = work.setup.mount->backlash_turns + work.request.play.turns,
       .clicks = work.clicks[k],
       .clicks_per_turn = work.clicks_per_turn,
       .after_m = work.after_m[k]});
}

ScrewCorrection screw_of(const Work& work, const ReadingNoise& noise, std::size_t k) {
  const dish::Adjuster& adjuster = work.setup.mount->adjusters[k];
  const double rise = work.setup.rise_per_turn_m[k];
  const double after = work.after_m[k];
  return {.label = adjuster.label,
          .now_m = work.planes.now_m[k] - work.setup.nominal_heights_m[k],
          .displacement_m = work.planes.rise_m[k],
          .turns = work.planes.rise_m[k] / rise,
          .sigma_turns = noise.rise_m[k] / std::abs(rise),
          .clicks = work.clicks[k],
          .lost_turns = work.lost_turns[k],
          .clicks_per_turn = work.clicks_per_turn,
          .after_m = after,
          .seen_from = adjuster.turned_from,
          .direction = adjusters::turn_text(work.clicks[k], work.clicks_per_turn,
                                            adjuster.turned_from, adjuster.turned_from),
          .finish = finish_of_screw(work, k),
          .travel_left = adjusters::travel_left(adjuster, work.setup.spring, after),
          .spring_after = adjusters::spring_at(work.setup.spring, after),
          .turns_from_nominal = after / rise,
          .gain = work.learned ? work.request.learned->along[k] : 1.0,
          .gain_sigma = work.learned ? work.request.learned->sigma[k] : 0.0};
}

/// Rotation from the desired to the actual normal, about the facet's own x and y.
Vec2 tilt_error(const Work& work) {
  const Vec3 axis = glm::cross(work.planes.desired.normal, work.planes.actual.normal);
  const double sine = glm::length(axis);
  if (sine == 0.0) return {0.0, 0.0};
  const double angle = angle_between(work.planes.desired.normal, work.planes.actual.normal);
  const base::Mat3 frame =
      base::frame_of_normal(work.setup.nominal.normal, work.setup.facet->clocking_rad);
  return angle / sine * Vec2(glm::dot(axis, frame[0]), glm::dot(axis, frame[1]));
}

/// What the hands' own error does: to the tilt, and to the spot (rms per axis), when the screws
/// that are told to turn are turned.
struct HandNoise {
  double tilt_rad = 0.0;
  double spot_m = 0.0;
};

HandNoise hand_noise(const Work& work, const FacePose& after) {
  const auto still = mark_of(work, after);
  double tilt_squares = 0.0;
  double spot_squares = 0.0;
  for (std::size_t k = 0; k < 3; ++k) {
    if (work.clicks[k] == 0) continue;
    auto displacement = work.after_m;
    displacement[k] += k_probe_m;
    const FacePose probe =
        pose_at(work.setup, work.setup.heights_at(displacement), work.solve.pivot);
    const double turned_m = work.request.turn_sigma_turns * work.setup.rise_per_turn_m[k];
    const double tilt = angle_between(probe.normal, after.normal) / k_probe_m * turned_m;
    tilt_squares += tilt * tilt;
    const auto mark = mark_of(work, probe);
    if (!still || !mark) continue;
    const double shift = glm::distance(mark.value(), still.value()) / k_probe_m * turned_m;
    spot_squares += shift * shift;
  }
  return {std::sqrt(tilt_squares), std::sqrt(0.5 * spot_squares)};
}

/// A spot error or a tilt below this costs more than it brings: reading noise `read` per axis, hand
/// noise `hands` per axis.
double stop_rule(double read, double hands) {
  return std::sqrt(4.0 * read * read + 2.0 * hands * hands);
}

/// Residual after the told clicks, and the stop rule's threshold.
base::Problems judge(const Work& work, const ReadingNoise& noise, Correction& correction) {
  const FacePose after = pose_at(work.setup, work.setup.heights_at(work.after_m), work.solve.pivot);
  const auto wanted = desired_normal(*work.setup.dish, *work.setup.facet, after.centre);
  if (!wanted) return wanted.problems();
  correction.residual_rad = angle_between(after.normal, wanted.value());
  const auto mark = mark_of(work, after);
  const auto aim = mark_of(work, {after.centre, wanted.value()});
  if (mark && aim) correction.residual_spot_m = mark.value() - aim.value();

  const HandNoise hands = hand_noise(work, after);
  const double per_axis = std::sqrt(0.5);
  correction.stop_threshold_rad = stop_rule(noise.tilt_rad * per_axis, hands.tilt_rad * per_axis);
  if (correction.seen_with == Instrument::spot) {
    correction.stop_threshold_m = stop_rule(work.request.sigmas.spot_m, hands.spot_m);
  } else {
    const double tilt = glm::length(correction.tilt_error_rad);
    const double spot_per_tilt = tilt > 0.0 ? glm::length(correction.spot_error_m) / tilt : 0.0;
    correction.stop_threshold_m = correction.stop_threshold_rad * spot_per_tilt;
  }
  correction.expected_rad = std::sqrt(std::pow(correction.residual_rad, 2) +
                                      std::pow(hands.tilt_rad, 2) + std::pow(noise.tilt_rad, 2));
  return {};
}

/// Whether the error is within what reading and turning can do.
bool within_noise(const Correction& correction) {
  if (correction.seen_with == Instrument::spot) {
    return glm::length(correction.spot_error_m) <= correction.stop_threshold_m;
  }
  return glm::length(correction.tilt_error_rad) <= correction.stop_threshold_rad;
}

void pass_verdict(const Work& work, Correction& correction) {
  const double off = base::mrad_from_rad(glm::length(correction.tilt_error_rad));
  const auto turning =
      std::count_if(work.clicks.begin(), work.clicks.end(), [](int clicks) { return clicks != 0; });
  const auto& feasible = correction.piston.feasible;
  if (correction.misfit > k_most_misfit) {
    correction.verdict = Verdict::measure_again;
    correction.verdict_text = fmt::format(
        "Its readings disagree by {:.0f} times their uncertainty. Measure again before turning.",
        correction.misfit);
  } else if (feasible.least > feasible.most) {
    correction.verdict = Verdict::out_of_range;
    correction.verdict_text =
        fmt::format("{:.1f} mrad off, and out of reach. {}", off, correction.piston.unmet);
  } else if (turning == 0) {
    correction.verdict = Verdict::leave;
    correction.verdict_text =
        fmt::format("{:.1f} mrad off: less than a click can mend. Leave it alone.", off);
  } else if (within_noise(correction)) {
    correction.verdict = Verdict::leave;
    correction.verdict_text = fmt::format(
        "{:.1f} mrad off, which is within what reading and turning can do. Leave it alone.", off);
  } else {
    correction.verdict = Verdict::turn;
    correction.verdict_text =
        fmt::format("{:.1f} mrad off: turn {} screw{}; {:.1f} mrad should be left.", off, turning,
                    turning == 1 ? "" : "s", base::mrad_from_rad(correction.residual_rad));
    if (!correction.piston.unmet.empty()) {
      correction.verdict_text += " " + correction.piston.unmet;
    }
  }
}

Result<Work> prepare(const dish::Dish& dish, const dish::Facet& facet, const Sighting& sighting,
                     const Observation& observation, const CorrectionRequest& request) {
  auto setup = set_up(dish, facet);
  if (!setup) return setup.problems();
  Work work{.setup = std::move(setup).value(),
            .sighting = sighting,
            .observation = observation,
            .request = request,
            .solve = {.piston = request.piston, .pivot = request.pivot}};
  if (request.piston == Piston::hold_screw) {
    const auto held = find_screw(work.setup, request.held_screw);
    if (!held) return held.problems();
    work.solve.held = held.value();
  }
  work.clicks_per_turn = request.clicks_per_turn.value_or(work.setup.mount->clicks_per_turn);
  if (work.clicks_per_turn < 1) {
    return base::Problem{"facets/" + facet.id.text,
                         fmt::format("{} clicks per turn", work.clicks_per_turn),
                         "at least one click per turn"};
  }
  auto evidence = evidence_of(work.setup, sighting, observation, request.sigmas);
  if (!evidence) return evidence.problems();
  work.evidence = std::move(evidence).value();
  const auto planes = solve_planes(work.setup, work.evidence, {0.0, 0.0}, work.solve);
  if (!planes) return planes.problems();
  work.planes = planes.value();
  if (request.learned) {
    work.learned = learned_move(work.setup, sighting, work.planes, work.solve, *request.learned);
    if (work.learned) {
      work.planes.rise_m = work.learned->rise_m;
      work.planes.piston = work.learned->piston;
    }
  }
  return work;
}

}  // namespace

Result<Correction> correct(const dish::Dish& dish, const dish::Facet& facet,
                           const Sighting& sighting, const Observation& observation,
                           const CorrectionRequest& request) {
  auto prepared = prepare(dish, facet, sighting, observation, request);
  if (!prepared) return prepared.problems();
  Work work = std::move(prepared).value();
  round_clicks(work);
  const auto noise = reading_noise(work);
  if (!noise) return noise.problems();

  Correction correction{.id = facet.id,
                        .seen_with = static_cast<Instrument>(observation.index()),
                        .actual = work.planes.actual,
                        .desired = work.planes.desired,
                        .tilt_error_rad = tilt_error(work),
                        .tilt_sigma_rad = noise.value().tilt_rad,
                        .piston = work.planes.piston,
                        .misfit = work.evidence.misfit};
  const auto perfect = mark_of(work, work.planes.desired);
  if (const auto* spot = std::get_if<SeenSpot>(&observation)) {
    if (!perfect) return perfect.problems();
    correction.spot_error_m = spot->at_m - perfect.value();
  } else if (const auto would = mark_of(work, work.planes.actual); would && perfect) {
    correction.spot_error_m = would.value() - perfect.value();
  }
  for (std::size_t k = 0; k < 3; ++k) correction.screws[k] = screw_of(work, noise.value(), k);
  auto problems = judge(work, noise.value(), correction);
  if (!problems.empty()) return problems;
  pass_verdict(work, correction);
  return correction;
}

Result<Correction> correct(const dish::Dish& dish, const dish::Facet& facet,
                           const Sighting& sighting, const Vec2& seen_m,
                           const CorrectionRequest& request) {
  return correct(dish, facet, sighting, Observation{SeenSpot{seen_m}}, request);
}

Result<double> usual_stop_threshold(const dish::Dish& dish, const dish::Facet& facet,
                                    const Sighting& sighting, const CorrectionRequest& request) {
  auto setup = set_up(dish, facet);
  if (!setup) return setup.problems();
  Work work{.setup = std::move(setup).value(),
            .sighting = sighting,
            .request = request,
            .solve = {.pivot = request.pivot},
            .clicks = {1, 1, 1}};
  const FacePose nominal = pose_at(work.setup, work.setup.heights_at({}), request.pivot);
  const auto mark = mark_of(work, nominal);
  if (!mark) return mark.problems();
  // Two of three screws are turned, whichever: two thirds of all three's noise.
  return stop_rule(request.sigmas.spot_m, std::sqrt(2.0 / 3.0) * hand_noise(work, nominal).spot_m);
}

void mark_doubtful(Correction& correction) {
  correction.verdict = Verdict::measure_again;
  correction.verdict_text = fmt::format(
      "{:.1f} mrad off, unlike the other facets. Look again before turning: the spot may be "
      "another facet's, or a screw may be stuck.",
      base::mrad_from_rad(glm::length(correction.tilt_error_rad)));
}

}  // namespace align
