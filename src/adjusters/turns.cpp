// Rounding to clicks, and the words for turns.
#include "adjusters/turns.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "base/check.h"

namespace adjusters {
namespace {

constexpr double k_whole = 1e-9;  ///< of a click: nearer than this it is that click
constexpr double k_range_slack_m = 1e-9;
constexpr double k_most_clicks = 1e8;  ///< no screw is that long; keeps whole numbers whole

const char* turn_word(bool plural) { return plural ? "turns" : "turn"; }

/// Clicks nearest, below and above an exact number of clicks; the same when it is whole.
std::array<int, 2> ways_to_round(double exact) {
  exact = std::clamp(exact, -k_most_clicks, k_most_clicks);
  const double nearest = std::round(exact);
  if (std::abs(exact - nearest) < k_whole) {
    return {static_cast<int>(nearest), static_cast<int>(nearest)};
  }
  return {static_cast<int>(std::floor(exact)), static_cast<int>(std::ceil(exact))};
}

/// One way to round, ordered by what matters first.
struct Way {
  std::array<int, 3> clicks{};
  bool leaves_range = false;
  double slope_error = 0.0;
  int work = 0;

  [[nodiscard]] bool better_than(const Way& other) const {
    if (leaves_range != other.leaves_range) return !leaves_range;
    if (std::abs(slope_error - other.slope_error) > 1e-12) return slope_error < other.slope_error;
    return work < other.work;
  }
};

Way weigh(const ClickQuestion& question, const std::array<int, 3>& clicks) {
  Way way{.clicks = clicks};
  Heights excess{};
  for (std::size_t k = 0; k < 3; ++k) {
    const double rise = clicks[k] * question.rise_per_turn_m[k] / question.clicks_per_turn;
    const double after = question.now_m[k] + rise;
    excess[k] = rise - question.rise_m[k];
    way.leaves_range = way.leaves_range || after < question.range[k].least - k_range_slack_m ||
                       after > question.range[k].most + k_range_slack_m;
    way.work += std::abs(clicks[k]);
  }
  const ScrewPlane plane = plane_through(question.bracket, excess);
  way.slope_error = std::hypot(plane.alpha, plane.beta);
  return way;
}

}  // namespace

double turns_from_rise(const dish::Adjuster& adjuster, double rise_m) {
  return rise_m / rise_per_turn_m(adjuster);
}

ClickAnswer round_to_clicks(const ClickQuestion& question) {
  CHECK(question.clicks_per_turn > 0, "a turn has at least one click");
  std::array<std::array<int, 2>, 3> ways{};
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(question.rise_per_turn_m[k] != 0.0, "a screw with a pitch moves when it is turned");
    ways[k] =
        ways_to_round(question.rise_m[k] / question.rise_per_turn_m[k] * question.clicks_per_turn);
  }
  Way best = weigh(question, {ways[0][0], ways[1][0], ways[2][0]});
  for (unsigned choice = 1; choice < 8; ++choice) {
    const Way way = weigh(question, {ways[0][choice & 1u], ways[1][(choice >> 1u) & 1u],
                                     ways[2][(choice >> 2u) & 1u]});
    if (way.better_than(best)) best = way;
  }
  return {best.clicks, best.slope_error};
}

std::string amount_text(int clicks, int clicks_per_turn) {
  CHECK(clicks >= 0 && clicks_per_turn > 0, "an amount has no direction");
  const int whole = clicks / clicks_per_turn;
  const int rest = clicks % clicks_per_turn;
  if (rest == 0) return fmt::format("{} {}", whole, turn_word(whole != 1));
  if (rest * 4 % clicks_per_turn == 0) {
    static constexpr std::array<const char*, 4> k_quarters{"", "¼", "½", "¾"};
    const char* quarters = k_quarters[static_cast<std::size_t>(rest * 4 / clicks_per_turn)];
    if (whole == 0) return fmt::format("{} turn", quarters);
    return fmt::format("{}{} turns", whole, quarters);
  }
  const std::string rest_text = fmt::format("{} click{}", rest, rest == 1 ? "" : "s");
  if (whole == 0) return rest_text;
  return fmt::format("{} {} and {}", whole, turn_word(whole != 1), rest_text);
}

std::string turn_text(int clicks, int clicks_per_turn, dish::Side turned_from,
                      dish::Side seen_from) {
  if (clicks == 0) return "leave it as it is";
  const bool clockwise = (clicks > 0) == (turned_from == seen_from);
  return fmt::format("{} {}, seen from the {}", amount_text(std::abs(clicks), clicks_per_turn),
                     clockwise ? "clockwise" : "anticlockwise",
                     seen_from == dish::Side::back ? "back" : "front");
}

Finish finish_of(const FinishQuestion& question) {
  CHECK(question.adjuster != nullptr, "a screw that is turned is known");
  const int loading = loading_direction(question.spring);
  const double per_click = rise_per_turn_m(*question.adjuster) / question.clicks_per_turn;
  const double rise = question.clicks * per_click;
  if (loading == 0 || rise * loading >= 0.0) return {};
  // Going on against the loading direction must not run out of travel or let the spring go slack.
  const Interval range = working_range(*question.adjuster, question.spring);
  const double room = loading > 0 ? question.after_m - range.least : range.most - question.after_m;
  const double wanted = std::round(question.backlash_turns * question.clicks_per_turn);
  const double possible = std::floor(room / std::abs(per_click) + k_whole);
  const int beyond = static_cast<int>(std::clamp(possible, 0.0, std::max(wanted, 0.0)));
  if (beyond == 0) return {};
  return {beyond, fmt::format("go {0} further, then {0} back, so that it ends against its spring",
                              amount_text(beyond, question.clicks_per_turn))};
}

TravelLeft travel_left(const dish::Adjuster& adjuster, const dish::Spring* spring,
                       double displacement_m) {
  const Interval range = working_range(adjuster, spring);
  TravelLeft left{.toward_sun_m = range.most - displacement_m,
                  .toward_bracket_m = displacement_m - range.least};
  const double rise = rise_per_turn_m(adjuster);
  const double clockwise_m = rise > 0.0 ? left.toward_sun_m : left.toward_bracket_m;
  const double anticlockwise_m = rise > 0.0 ? left.toward_bracket_m : left.toward_sun_m;
  left.clockwise_turns = clockwise_m / std::abs(rise);
  left.anticlockwise_turns = anticlockwise_m / std::abs(rise);
  return left;
}

}  // namespace adjusters
