// A dish as somebody really built it, and a person who reads spots and turns its screws: through
// the exact forward model, seeded.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "align/history.h"
#include "align/response.h"
#include "base/elementary.h"
#include "dish/dish.h"
#include "support/reference_dish.h"

namespace align_test {

/// How people and hardware err.
struct Errors {
  double spot_sigma_m = 0.002;
  double turn_sigma_turns = 1.0 / 12.0;
  double gain_sigma = 0.03;
  double tilt_sigma_rad = 0.002;  ///< per axis, before the first round
  bool uniform_5_20 = false;      ///< instead: magnitude 5 to 20 mrad, any direction
  double play_turns = 0.0;        ///< a screw turns so far before its corner follows
};

class Gauss {
 public:
  explicit Gauss(unsigned seed) : engine_(seed) {}
  double operator()(double sigma = 1.0) { return sigma * base::inverse_normal(unit()); }
  double unit() { return (engine_() + 0.5) * 0x1p-32; }

 private:
  std::mt19937 engine_;
};

/// One dish in the field. `wiring`: how its labels differ from the file's.
struct Field {
  dish::Dish file;  ///< what the file says, with the rounds logged so far
  std::vector<std::array<double, 3>> standing_m;  ///< where the corners really stand
  std::vector<std::array<double, 3>> gain;
  /// Turns that each screw would go anticlockwise before its corner follows, 0 to the play.
  std::vector<std::array<double, 3>> slack_turns;
  std::vector<align::Wiring> wiring;
  std::vector<std::size_t> turns_of;  ///< whose turns a facet receives
  Errors errors;
  Gauss gauss;

  Field(const dish::Dish& dish, const Errors& how, unsigned seed)
      : file(dish), errors(how), gauss(seed) {
    for (std::size_t i = 0; i < file.facets.size(); ++i) {
      const auto& seats = file.mounts[0].adjusters;
      double a = gauss(errors.tilt_sigma_rad);
      double b = gauss(errors.tilt_sigma_rad);
      if (errors.uniform_5_20) {
        const double size = 0.005 + 0.015 * gauss.unit();
        const auto way = base::sincos_turns(gauss.unit());
        a = size * way.cos;
        b = size * way.sin;
      }
      std::array<double, 3> standing{};
      std::array<double, 3> gains{};
      for (std::size_t k = 0; k < 3; ++k) {
        standing[k] = a * seats[k].x_m + b * seats[k].y_m;
        gains[k] = 1.0 + gauss(errors.gain_sigma);
      }
      standing_m.push_back(standing);
      slack_turns.push_back(
          {0.5 * errors.play_turns, 0.5 * errors.play_turns, 0.5 * errors.play_turns});
      gain.push_back(gains);
      wiring.emplace_back();
      turns_of.push_back(i);
    }
  }

  [[nodiscard]] base::Vec2 spot_of(std::size_t facet) const {
    const auto setup = align::set_up(file, file.facets[facet]).value();
    const auto pose = adjusters::displaced_pose(setup.bracket, setup.nominal, standing_m[facet]);
    return align::expected_mark(file, file.facets[facet], pose, align::sighting_of(file, {}))
        .value()
        .board_m;
  }

  /// Looks at the facets (all when none are named) and logs a round.
  void look(const std::vector<std::size_t>& facets = {}) {
    dish::Round round{.name = "Round " + std::to_string(file.rounds.size() + 1)};
    std::vector<std::size_t> all = facets;
    for (std::size_t i = 0; facets.empty() && i < file.facets.size(); ++i) all.push_back(i);
    for (const std::size_t i : all) {
      const base::Vec2 noise{gauss(errors.spot_sigma_m), gauss(errors.spot_sigma_m)};
      round.spots.push_back({.facet = file.facets[i].id, .seen_m = spot_of(i) + noise});
    }
    file.rounds.push_back(round);
  }

  /// Logs turns as told, and does what really happens.
  void turn(std::size_t facet, const align::Turns& turns) {
    dish::Round& round = file.rounds.back();
    for (std::size_t k = 0; k < 3; ++k) {
      if (turns[k] == 0.0) continue;
      const auto& label = file.mounts[0].adjusters[k].label;
      round.told.push_back({file.facets[facet].id, label, turns[k]});
      round.turned.push_back({file.facets[facet].id, label, turns[k]});
    }
    std::size_t receiver = facet;
    for (std::size_t i = 0; i < turns_of.size(); ++i) {
      if (turns_of[i] == facet) receiver = i;
    }
    const align::Wiring& wired = wiring[receiver];
    for (std::size_t k = 0; k < 3; ++k) {
      if (turns[k] == 0.0) continue;
      const std::size_t screw = wired.moves[k];
      const double lead = file.mounts[0].adjusters[screw].pitch_m * wired.lead_factor;
      standing_m[receiver][screw] +=
          wired.sense[k] * lead * gain[receiver][screw] *
          followed(slack_turns[receiver][screw], turns[k] + gauss(errors.turn_sigma_turns));
    }
  }

  /// Turns of its corner when a screw is turned: what is left when the play is taken up.
  [[nodiscard]] double followed(double& slack, double turned) const {
    const double before = slack;
    slack = std::clamp(slack + turned, 0.0, errors.play_turns);
    return turned - (slack - before);
  }

  /// Slopes (alpha, beta) of a facet's screw plane: its tilt error, as nominal is level here.
  [[nodiscard]] base::Vec2 tilt_of(std::size_t facet) const {
    const auto setup = align::set_up(file, file.facets[facet]).value();
    const auto plane = adjusters::plane_through(setup.bracket, setup.heights_at(standing_m[facet]));
    const auto level = adjusters::plane_through(setup.bracket, setup.nominal_heights_m);
    return {plane.alpha - level.alpha, plane.beta - level.beta};
  }

  [[nodiscard]] double rms_tilt() const {
    double sum = 0.0;
    for (std::size_t i = 0; i < standing_m.size(); ++i) {
      sum += glm::dot(tilt_of(i), tilt_of(i));
    }
    return std::sqrt(sum / static_cast<double>(standing_m.size()));
  }
};

}  // namespace align_test
