// Fixed points: the centre follows the plane, and the normals follow the centre.
#include "align/solve.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace align {
namespace {

using adjusters::FacePose;
using adjusters::ScrewPlane;
using base::Problem;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr int k_most_steps = 60;
constexpr double k_still_m = 1e-12;
constexpr double k_good_enough_m = 1e-9;
constexpr double k_least_facing = 1e-3;
/// A screw with less than this many turns left is near its end. Common practice, no source.
constexpr double k_spare_turns = 1.5;
constexpr double k_worth_turns = 1e-6;

Result<Vec2> slopes_on(const FacetSetup& setup, const Vec3& normal) {
  if (!(glm::dot(normal, setup.bracket.dish_from_bracket.z()) > k_least_facing)) {
    return Problem{"facets/" + setup.facet->id.text, "a tilt that turns it off its bracket",
                   "a normal less than 90 degrees from the bracket's axis"};
  }
  return adjusters::slopes_of_normal(setup.bracket, normal);
}

Problem restless(const FacetSetup& setup) {
  return {"facets/" + setup.facet->id.text, "a centre that does not come to rest",
          "a bracket near enough to the facet"};
}

FacePose with_pivot(const FacetSetup& setup, FacePose pose, Pivot pivot) {
  if (pivot == Pivot::fixed) pose.centre = setup.nominal.centre;
  return pose;
}

/// Place on the bracket whose height is known from the file: the held screw, or the foot.
Vec2 anchor_of(const FacetSetup& setup, const SolveRequest& request) {
  return request.piston == Piston::hold_screw ? setup.bracket.seats_m[request.held]
                                              : setup.bracket.foot_m;
}

/// The plane that the reading tells, through the known height at the anchor.
Result<ScrewPlane> actual_plane(const FacetSetup& setup, const Evidence& evidence,
                                const Vec2& reading_step, const SolveRequest& request) {
  const Vec2 anchor = anchor_of(setup, request);
  const auto known_heights = setup.heights_at(setup.facet->displacement_m);
  const ScrewPlane known = adjusters::plane_through(setup.bracket, known_heights);
  const double height = known.height0_m + known.alpha * anchor.x + known.beta * anchor.y;
  Vec3 centre = pose_at(setup, known_heights, request.pivot).centre;
  double moved = 0.0;
  for (int step = 0; step < k_most_steps; ++step) {
    const auto normal = evidence.normal_at(centre, reading_step);
    if (!normal) return normal.problems();
    const auto slopes = slopes_on(setup, normal.value());
    if (!slopes) return slopes.problems();
    const Vec2 s = slopes.value();
    const ScrewPlane plane{height - s.x * anchor.x - s.y * anchor.y, s.x, s.y};
    const Vec3 next =
        with_pivot(setup, adjusters::pose_from_plane(setup.bracket, plane), request.pivot).centre;
    moved = glm::distance(next, centre);
    centre = next;
    if (moved < k_still_m || (step + 1 == k_most_steps && moved < k_good_enough_m)) return plane;
  }
  return restless(setup);
}

/// Least turns that any screw would have left to either end of its range.
double least_turns_left(const PistonQuestion& question, double piston_m) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < 3; ++k) {
    const double after = question.now_m[k] + question.rise_m[k] + piston_m;
    const double left = std::min(question.range[k].most - after, after - question.range[k].least);
    least = std::min(least, left / question.lead_m[k]);
  }
  return least;
}

/// The fewest turns are no bargain when they leave a spring at its end: then the screws are kept
/// near the middle instead, when that leaves more.
void spare_the_springs(const FacetSetup& setup, PistonQuestion& question, PistonChoice& choice) {
  if (question.piston != Piston::fewest_turns || setup.spring == nullptr) return;
  const double left = least_turns_left(question, choice.chosen_m);
  if (left >= k_spare_turns) return;
  PistonQuestion middle = question;
  middle.piston = Piston::mid_range;
  const PistonChoice other = choose_piston(middle);
  if (!(least_turns_left(middle, other.chosen_m) > left + k_worth_turns)) return;
  question.piston = Piston::mid_range;
  choice = other;
}

/// Rises to the wanted plane: the change of slopes about the foot, plus the convention's share.
Result<Planes> with_rises(const FacetSetup& setup, const SolveRequest& request, Planes planes) {
  const auto from = slopes_on(setup, planes.actual.normal);
  if (!from) return from.problems();
  PistonQuestion question = piston_question(setup, request, planes.now_m);
  Vec3 centre = planes.actual.centre;
  for (int step = 0; step < k_most_steps; ++step) {
    const auto normal = desired_normal(*setup.dish, *setup.facet, centre);
    if (!normal) return normal.problems();
    const auto to = slopes_on(setup, normal.value());
    if (!to) return to.problems();
    const Vec2 change = to.value() - from.value();
    adjusters::Heights heights = planes.now_m;
    for (std::size_t k = 0; k < 3; ++k) {
      question.rise_m[k] = glm::dot(setup.bracket.seats_m[k] - setup.bracket.foot_m, change);
    }
    planes.piston = choose_piston(question);
    if (step == 0) spare_the_springs(setup, question, planes.piston);
    for (std::size_t k = 0; k < 3; ++k) {
      planes.rise_m[k] = question.rise_m[k] + planes.piston.chosen_m;
      heights[k] += planes.rise_m[k];
    }
    planes.desired = {pose_at(setup, heights, request.pivot).centre, normal.value()};
    const double moved = glm::distance(planes.desired.centre, centre);
    centre = planes.desired.centre;
    if (moved < k_still_m || (step + 1 == k_most_steps && moved < k_good_enough_m)) {
      if (question.piston != request.piston && planes.piston.unmet.empty()) {
        planes.piston.unmet =
            "The fewest turns would leave a screw under 1½ turns from the end of its range, so all "
            "three are kept near the middle.";
      }
      return planes;
    }
  }
  return restless(setup);
}

}  // namespace

PistonQuestion piston_question(const FacetSetup& setup, const SolveRequest& request,
                               const adjusters::Heights& now_m) {
  PistonQuestion question{.range = setup.range,
                          .piston = request.piston,
                          .held = request.held,
                          .loading = tightening(setup)};
  for (std::size_t k = 0; k < 3; ++k) {
    question.lead_m[k] = std::abs(setup.rise_per_turn_m[k]);
    question.now_m[k] = now_m[k] - setup.nominal_heights_m[k];
    question.labels[k] = setup.mount->adjusters[k].label;
  }
  return question;
}

FacePose pose_at(const FacetSetup& setup, const adjusters::Heights& heights_m, Pivot pivot) {
  return with_pivot(setup, adjusters::pose_from_heights(setup.bracket, heights_m), pivot);
}

Result<Planes> solve_planes(const FacetSetup& setup, const Evidence& evidence, const Vec2& step,
                            const SolveRequest& request) {
  const auto plane = actual_plane(setup, evidence, step, request);
  if (!plane) return plane.problems();
  Planes planes;
  const ScrewPlane& p = plane.value();
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec2 seat = setup.bracket.seats_m[k];
    planes.now_m[k] = p.height0_m + p.alpha * seat.x + p.beta * seat.y;
  }
  planes.actual = with_pivot(setup, adjusters::pose_from_plane(setup.bracket, p), request.pivot);
  return with_rises(setup, request, planes);
}

}  // namespace align
