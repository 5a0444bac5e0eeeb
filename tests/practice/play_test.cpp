// Practised alignments: laws of the hidden dish, and what is left after each round against the
// figures that the method was designed by.
#include "practice/play.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "support/reference_dish.h"
#include "trials.h"

namespace {

using naming::Scheme;
using practice::PlayedScheme;
using practice_test::k_session_trials;

struct SessionFigures {
  double start_mrad = 0.0;
  std::vector<double> left_mrad;
  std::vector<double> left_error_mrad;  ///< standard error of it, from the sessions' own scatter
  std::vector<double> photos;
  double wrong = 0.0;  ///< in a session
};

/// Figures of all sessions, those with a wrong name among them.
SessionFigures figures_of(const practice::Settings& settings) {
  const dish::Dish dish = support::reference_dish();
  const auto stage = practice::set_stage(dish, settings);
  REQUIRE(stage.ok());
  const auto rounds = static_cast<std::size_t>(settings.rounds);
  SessionFigures figures{.left_mrad = std::vector<double>(rounds, 0.0),
                         .left_error_mrad = std::vector<double>(rounds, 0.0),
                         .photos = std::vector<double>(rounds, 0.0)};
  for (int trial = 0; trial < k_session_trials; ++trial) {
    const auto session = practice::play(stage.value(), 5, static_cast<std::uint32_t>(trial));
    figures.start_mrad += 1e6 * base::square(session.start_rms_rad) / k_session_trials;
    for (std::size_t k = 0; k < rounds; ++k) {
      const double squares = 1e6 * base::square(session.rounds[k].rms_rad);
      figures.wrong += static_cast<double>(session.rounds[k].wrong) / k_session_trials;
      figures.photos[k] += static_cast<double>(session.rounds[k].photos) / k_session_trials;
      figures.left_mrad[k] += squares / k_session_trials;
      figures.left_error_mrad[k] += squares * squares / k_session_trials;
    }
  }
  figures.start_mrad = std::sqrt(figures.start_mrad);
  for (std::size_t k = 0; k < rounds; ++k) {
    const double mean = figures.left_mrad[k];
    const double variance = std::max(0.0, figures.left_error_mrad[k] - mean * mean);
    figures.left_mrad[k] = std::sqrt(mean);
    // d sqrt(m) = dm / (2 sqrt(m))
    figures.left_error_mrad[k] = 0.5 * std::sqrt(variance / k_session_trials / mean);
  }
  return figures;
}

practice::Settings settings_of(const PlayedScheme& scheme, double board_half_m, bool wide) {
  practice::Settings settings{.scheme = scheme};
  if (wide) settings.errors.between_rad = {{0.005, 0.020}};
  settings.camera.board_half_width_m = board_half_m;
  settings.identify.board_area_m2 = 4.0 * board_half_m * board_half_m;
  return settings;
}

}  // namespace

TEST_CASE("practice: what is left after each round, scheme by scheme") {
  // Source: the design page's table of residuals: rms tilt in mrad after 1, 2, 3 rounds, starting
  // from 3 mrad per axis (4.2 rms) and from 5 to 20 mrad (13.2 rms); 36 facets, 150 trials, 3 %
  // screw gain, 2 mm centroids, hands of 1/12 turn, stop rule, single checks of what is doubtful.
  // Tolerance: 4 standard errors of the two rms together (0.7 % theirs; ours from the scatter of 50
  // sessions, 1.2 % when all names are right), 0.03 mrad for their rounding, for facets missed
  // three times, and for rules of a round that the table does not tell. A session in which a stray
  // spot was taken for a facet's (up to 0.03 in a session there, up to 0.06 here from the wide
  // start) counts like any other: it leaves one facet 10 mrad off until the next round. Photographs
  // of the first round: within 15 % and 0.6, because single checks scatter.
  const struct {
    const char* name;
    PlayedScheme scheme;
    double board_half_m;
    std::vector<double> narrow_mrad, wide_mrad;
    std::array<double, 2> photos;  ///< first round
  } rows[] = {
      {"one by one",
       {.scheme = Scheme::one_by_one},
       0.3,
       {1.18, 1.01, 0.95},
       {1.28, 1.02, 0.93},
       {36.0, 36.0}},
      {"defocus 0.2",
       {.before_focus_m = 0.4},
       0.35,
       {1.30, 1.14, 1.08},
       {1.37, 1.17, 1.09},
       {3.0, 37.0}},
      {"defocus 0.2, 3 groups",
       {.before_focus_m = 0.4, .first_groups = 3},
       0.35,
       {1.30, 1.13, 1.07},
       {1.40, 1.16, 1.07},
       {3.4, 27.0}},
      {"defocus 0.2, 7 groups",
       {.before_focus_m = 0.4, .first_groups = 7},
       0.35,
       {1.29, 1.13, 1.05},
       {1.39, 1.15, 1.07},
       {7.4, 9.0}},
      {"defocus 0.3, 3 groups",
       {.before_focus_m = 0.6, .first_groups = 3},
       0.35,
       {1.37, 1.22, 1.16},
       {1.45, 1.25, 1.17},
       {3.3, 3.6}},
      {"defocus 0.4",
       {.before_focus_m = 0.8},
       0.45,
       {1.51, 1.39, 1.31},
       {1.59, 1.40, 1.34},
       {1.5, 2.7}},
      {"tilt array 75",
       {.scheme = Scheme::tilt_array, .cell_pitch_m = 0.075},
       0.5,
       {1.63, 1.61, 1.61},
       {1.67, 1.60, 1.60},
       {1.7, 37.0}},
      {"tilt array 150",
       {.scheme = Scheme::tilt_array, .cell_pitch_m = 0.15},
       0.8,
       {2.52, 2.52, 2.50},
       {2.54, 2.49, 2.51},
       {1.4, 6.7}},
      {"look back",
       {.scheme = Scheme::look_back},
       0.2,
       {1.19, 1.01, 0.94},
       {1.27, 1.03, 0.95},
       {1.0, 1.0}},
  };
  for (const auto& row : rows) {
    for (const bool wide : {false, true}) {
      const SessionFigures ours = figures_of(settings_of(row.scheme, row.board_half_m, wide));
      const std::vector<double>& published = wide ? row.wide_mrad : row.narrow_mrad;
      const std::string line = fmt::format(
          "{}, start {:.2f}: {:.2f} {:.2f} {:.2f} mrad, {:.1f} {:.1f} {:.1f} photos, {:.3f} wrong",
          row.name, ours.start_mrad, ours.left_mrad[0], ours.left_mrad[1], ours.left_mrad[2],
          ours.photos[0], ours.photos[1], ours.photos[2], ours.wrong);
      MESSAGE(line);
      CAPTURE(line);
      const double photos = row.photos[wide ? 1 : 0];
      CHECK(std::abs(ours.photos[0] - photos) < 0.15 * photos + 0.6);
      CHECK(ours.wrong <= (practice_test::k_is_slow ? 0.5 : 0.1));
      for (std::size_t k = 0; k < 3; ++k) {
        CAPTURE(k);
        CAPTURE(ours.left_error_mrad[k]);
        const double error =
            std::hypot(practice_test::rms_error(150, 36) * published[k], ours.left_error_mrad[k]);
        CHECK(std::abs(ours.left_mrad[k] - published[k]) < 4.0 * error + 0.03);
      }
    }
  }
}

TEST_CASE(
    "practice: the gain that a first half of the way teaches shortens the tilt array's tail") {
  // Source: the same table: 1.63 mrad straight back, 1.41 with a learned gain.
  PlayedScheme scheme{.scheme = Scheme::tilt_array, .cell_pitch_m = 0.075};
  practice::Settings settings = settings_of(scheme, 0.5, false);
  settings.rounds = 1;
  const SessionFigures straight = figures_of(settings);
  settings.scheme.learns_gain = true;
  const SessionFigures learned = figures_of(settings);
  MESSAGE(fmt::format("learned {:.2f} mrad in {:.1f} photos, straight {:.2f}", learned.left_mrad[0],
                      learned.photos[0], straight.left_mrad[0]));
  CHECK(learned.left_mrad[0] < straight.left_mrad[0]);
}

TEST_CASE("practice: the same session from the same seed, another from another") {
  const dish::Dish dish = support::reference_dish();
  const auto stage = practice::set_stage(dish, {});
  REQUIRE(stage.ok());
  const auto one = practice::play(stage.value(), 3, 4);
  const auto again = practice::play(stage.value(), 3, 4);
  const auto other = practice::play(stage.value(), 3, 5);
  CHECK(one.start_rms_rad == again.start_rms_rad);
  CHECK(one.rounds[2].rms_rad == again.rounds[2].rms_rad);
  CHECK(one.rounds[2].turns == again.rounds[2].turns);
  CHECK(one.start_rms_rad != other.start_rms_rad);
}

TEST_CASE("practice: hidden tilts are as large as was asked for") {
  const dish::Dish dish = support::reference_dish();
  const auto practice = practice::set_up(dish).value();
  practice::Draws draws(1, 2, 3);
  const auto hidden =
      practice::hide(practice, {.between_rad = {{0.005, 0.020}}, .swapped_labels = 1.0}, draws);
  for (const double tilt : practice::tilts_left(practice, hidden)) {
    CHECK(tilt > 0.0049);
    CHECK(tilt < 0.0201);
  }
  for (const auto& labels : hidden.screw_of_label) {
    CHECK(labels != std::array<std::size_t, 3>{0, 1, 2});
    CHECK(labels[0] + labels[1] + labels[2] == 3);
  }
  const auto perfect = practice::hide(practice, {.tilt_rad = 0.0, .gain = 0.0}, draws);
  for (const double tilt : practice::tilts_left(practice, perfect)) CHECK(tilt < 1e-12);
}

TEST_CASE("practice: without errors of any kind one round is enough") {
  practice::Settings settings;
  settings.errors.gain = 0.0;
  settings.hands.turn_sigma_turns = 0.0;
  settings.camera = {.spot_sigma_m = 1e-6, .missed = 0.0, .false_spots = 0.0, .flux_sigma = 0.0};
  settings.correction.turn_sigma_turns = 0.0;
  settings.correction.clicks_per_turn = 360;
  settings.rounds = 1;
  const SessionFigures figures = figures_of(settings);
  // A click of 1 / 360 turn is 0.02 mrad.
  CHECK(figures.left_mrad[0] < 0.03);
  CHECK(figures.wrong == 0.0);
}

TEST_CASE("practice: swapped labels do not come to rest") {
  practice::Settings settings;
  settings.errors.swapped_labels = 1.0;
  const SessionFigures swapped = figures_of(settings);
  CHECK(swapped.left_mrad[2] > 2.0);
}

TEST_CASE("practice: random numbers are what they are called") {
  practice::Draws draws(9, 1, 1);
  double sum = 0.0;
  double squares = 0.0;
  double counts = 0.0;
  constexpr int k_draws = 20000;
  for (int i = 0; i < k_draws; ++i) {
    const double z = draws.normal();
    sum += z;
    squares += z * z;
    counts += static_cast<double>(draws.poisson(0.5));
  }
  // Four standard errors: 1, sqrt 2 and sqrt 0.5 over sqrt(20000).
  CHECK(std::abs(sum / k_draws) < 0.029);
  CHECK(std::abs(squares / k_draws - 1.0) < 0.04);
  CHECK(std::abs(counts / k_draws - 0.5) < 0.02);
}

TEST_CASE("practice: settings out of range are refused") {
  const dish::Dish dish = support::reference_dish();
  practice::Settings settings;
  settings.rounds = 0;
  CHECK_FALSE(practice::set_stage(dish, settings).ok());
  settings.rounds = 1;
  settings.errors.between_rad = {{0.02, 0.005}};
  CHECK_FALSE(practice::set_stage(dish, settings).ok());
  CHECK_FALSE(practice::set_stage(dish::Dish{}, {}).ok());
}
