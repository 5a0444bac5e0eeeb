// The wave's formula and its inverse.
#include "photo/fringes.h"

#include <fmt/format.h>

#include <cmath>

#include "base/elementary.h"
#include "base/units.h"

namespace photo {
namespace {

constexpr double k_least_screen_m = 0.1;
constexpr double k_most_screen_m = 10.0;

}  // namespace

base::Vec2 wave_m(const Screen& screen) {
  return {screen.width_m / k_wave_shown, screen.height_m / k_wave_shown};
}

double fringe_light(const Screen& screen, std::size_t picture, const base::Vec2& place_m) {
  const bool is_across = picture < k_fringe_steps;
  const base::Vec2 wave = wave_m(screen);
  const double along = is_across ? place_m.x / wave.x : place_m.y / wave.y;
  const double step = static_cast<double>(picture % k_fringe_steps) / k_fringe_steps;
  return k_fringe_mean + k_fringe_swing * base::sincos_turns(along + step).cos;
}

FourSteps read_four(const std::array<double, k_fringe_steps>& light) {
  const double cosine = light[0] - light[2];
  const double sine = light[3] - light[1];
  return {.phase_turns = std::atan2(sine, cosine) / (2.0 * base::k_pi),
          .mean = 0.25 * (light[0] + light[1] + light[2] + light[3]),
          .swing = 0.5 * std::hypot(cosine, sine),
          .mismatch = light[0] + light[2] - light[1] - light[3]};
}

std::string fringe_name(std::size_t picture) {
  return fmt::format("{}, step {} of {}", picture < k_fringe_steps ? "across" : "up",
                     picture % k_fringe_steps + 1, k_fringe_steps);
}

base::Problems check(const Screen& screen) {
  base::Problems problems;
  const auto side = [&problems](const char* name, double value_m) {
    if (value_m >= k_least_screen_m && value_m <= k_most_screen_m) return;
    problems.push_back(
        {name, fmt::format("{} mm", base::mm_from_m(value_m)), "a side of 100 to 10000 mm"});
  };
  side("screen.width_mm", screen.width_m);
  side("screen.height_mm", screen.height_m);
  return problems;
}

}  // namespace photo
