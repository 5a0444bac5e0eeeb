// The common modes as causes a person can act on, in plain sentences.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "align/common.h"
#include "base/units.h"

namespace align {
namespace {

using base::Vec2;

constexpr double k_sigmas = 3.0;
constexpr double k_least_response = 1e-6;
constexpr std::size_t k_good_count = 10;  ///< spots from which the modes are well told apart

std::size_t at(Mode mode) { return static_cast<std::size_t>(mode); }

std::string mm(double value_m, double sigma_m) {
  return fmt::format("{:.1f} ± {:.1f} mm", base::mm_from_m(value_m), base::mm_from_m(sigma_m));
}

std::string mrad(double value, double sigma) {
  return fmt::format("{:.1f} ± {:.1f} mrad", base::mrad_from_rad(value),
                     base::mrad_from_rad(sigma));
}

const char* subject_of(Mode mode) {
  switch (mode) {
    case Mode::shift_x:
      return "Common shift along x";
    case Mode::shift_y:
      return "Common shift along y";
    case Mode::radial:
      return "Common spread, at the rim";
    case Mode::swirl:
      return "Common swirl, at the rim";
    case Mode::saddle:
      return "Saddle along x and y, at the rim";
    case Mode::saddle_45:
      return "Saddle at 45 degrees, at the rim";
  }
  return "";
}

std::string shift_sentence(const CommonErrors& errors, const CommonMode& mode) {
  const bool along_x = mode.mode == Mode::shift_x;
  const double tilt = along_x ? errors.boresight_rad.x : errors.boresight_rad.y;
  const double sigma = along_x ? errors.boresight_sigma_rad.x : errors.boresight_sigma_rad.y;
  const char* way = along_x ? (mode.value > 0.0 ? "+x" : "-x") : (mode.value > 0.0 ? "+y" : "-y");
  return fmt::format(
      "All spots lie {} toward {}, as if the sun stood {} off in {}. A shifted board, a sagging "
      "arm or a decentred secondary looks the same. Set the tracker's offset, or move what is "
      "shifted, rather than every screw.",
      mm(std::abs(mode.value), mode.sigma), way, mrad(tilt, sigma), along_x ? "x" : "y");
}

std::string radial_sentence(const CommonErrors& errors, const CommonMode& mode, double rim_m) {
  return fmt::format(
      "The spots lie {} {} at the rim, as if the board stood {} too {}. A cupped frame looks the "
      "same. Measure the board's distance, and move the receiver before turning every screw.",
      mm(mode.at_rim_m, mode.sigma * rim_m),
      mode.value > 0.0 ? "on their own facet's side" : "on the side opposite their facet",
      mm(std::abs(errors.focus_m), errors.focus_sigma_m), errors.focus_m > 0.0 ? "far" : "near");
}

std::string swirl_sentence(const CommonErrors& errors) {
  return fmt::format(
      "The spots swirl about the axis, as if the facets' places were turned by {:.2f} ± {:.2f} "
      "degrees against their normals. Look for a turned template, a mirrored drawing or shifted "
      "labels; a bent frame cannot do this.",
      base::deg_from_rad(errors.clocking_rad), base::deg_from_rad(errors.clocking_sigma_rad));
}

std::string saddle_sentence(const CommonErrors& errors, const CommonMode& mode, double rim_m) {
  const bool upright = mode.mode == Mode::saddle;
  const double bend = upright ? errors.bend_per_m.x : errors.bend_per_m.y;
  const double sigma = upright ? errors.bend_sigma_per_m.x : errors.bend_sigma_per_m.y;
  return fmt::format(
      "The frame looks bent as a saddle{}: {} of slope at the rim. Correct it at the tension "
      "rods if there are any; else the screws can take it.",
      upright ? "" : " at 45 degrees", mrad(bend * rim_m, sigma * rim_m));
}

/// Cause and sigma from a mode by its response; zero where the cause would not show.
std::array<double, 2> cause_of(const ModeFit& fit, Mode mode, double response) {
  if (!(std::abs(response) > k_least_response)) return {0.0, 0.0};
  return {fit.value[at(mode)] / response, fit.sigma[at(mode)] / std::abs(response)};
}

void find_causes(const Responses& responses, CommonErrors& errors) {
  const ModeFit& fit = errors.fit;
  const base::Mat2& m = responses.shift_per_boresight;
  const double determinant = m[0].x * m[1].y - m[1].x * m[0].y;
  if (std::abs(determinant) > k_least_response * k_least_response) {
    const Vec2 to_x = Vec2(m[1].y, -m[1].x) / determinant;
    const Vec2 to_y = Vec2(-m[0].y, m[0].x) / determinant;
    const Vec2 shift{fit.value[at(Mode::shift_x)], fit.value[at(Mode::shift_y)]};
    const Vec2 sigma{fit.sigma[at(Mode::shift_x)], fit.sigma[at(Mode::shift_y)]};
    errors.boresight_rad = {glm::dot(to_x, shift), glm::dot(to_y, shift)};
    errors.boresight_sigma_rad = {glm::length(to_x * sigma), glm::length(to_y * sigma)};
  }
  const auto focus = cause_of(fit, Mode::radial, responses.radial_per_distance);
  const auto clocking = cause_of(fit, Mode::swirl, responses.swirl_per_clocking);
  const auto bend = cause_of(fit, Mode::saddle, responses.saddle_per_bend_m);
  const auto bend_45 = cause_of(fit, Mode::saddle_45, responses.saddle_45_per_bend_m);
  errors.focus_m = focus[0];
  errors.focus_sigma_m = focus[1];
  errors.clocking_rad = clocking[0];
  errors.clocking_sigma_rad = clocking[1];
  errors.bend_per_m = {bend[0], bend_45[0]};
  errors.bend_sigma_per_m = {bend[1], bend_45[1]};
}

std::string sentence_of(const CommonErrors& errors, const CommonMode& mode, double rim_m) {
  if (!mode.significant) {
    const double lever = at(mode.mode) < 2 ? 1.0 : rim_m;
    return fmt::format("{}: {}; nothing to act on.", subject_of(mode.mode),
                       mm(mode.value * lever, mode.sigma * lever));
  }
  switch (mode.mode) {
    case Mode::shift_x:
    case Mode::shift_y:
      return shift_sentence(errors, mode);
    case Mode::radial:
      return radial_sentence(errors, mode, rim_m);
    case Mode::swirl:
      return swirl_sentence(errors);
    case Mode::saddle:
    case Mode::saddle_45:
      return saddle_sentence(errors, mode, rim_m);
  }
  return "";
}

}  // namespace

CommonErrors explain(ModeFit fit, const Responses& responses, const std::vector<Vec2>& places_m,
                     double stop_threshold_m) {
  CommonErrors errors{.fit = std::move(fit)};
  find_causes(responses, errors);
  double rim_m = 0.0;
  for (const Vec2& place : places_m) rim_m = std::max(rim_m, glm::length(place));
  for (std::size_t m = 0; m < k_modes; ++m) {
    CommonMode& mode = errors.modes[m];
    mode.mode = static_cast<Mode>(m);
    mode.value = errors.fit.value[m];
    mode.sigma = errors.fit.sigma[m];
    mode.at_rim_m = std::abs(mode.value) * (m < 2 ? 1.0 : rim_m);
    mode.significant =
        std::abs(mode.value) > k_sigmas * mode.sigma && mode.at_rim_m > stop_threshold_m;
    mode.sentence = sentence_of(errors, mode, rim_m);
  }
  if (places_m.size() < k_good_count) {
    errors.note = fmt::format(
        "Common errors from {} spots only; ten or more, all around and at all radii, tell them "
        "apart better.",
        places_m.size());
  }
  return errors;
}

}  // namespace align
