// How often covers that open by a code name every facet rightly.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "naming/cover_codes.h"
#include "practice/play.h"
#include "support/reference_dish.h"
#include "trials.h"

namespace {

using naming::CoverCode;
using naming::Doubt;
using practice_test::k_is_slow;

constexpr int k_code_trials = k_is_slow ? 4 : 40;

struct CodeFigures {
  double right = 0.0;   ///< share of trials without a wrong name
  double missed = 0.0;  ///< facets without a name, in a trial
};

/// One column of the table: 0 mrad stands for 5 to 20 in any direction.
CodeFigures code_figures(double before_focus_m, CoverCode code, double mrad) {
  const dish::Dish dish = support::reference_dish();
  practice::Settings settings;
  settings.scheme = {.before_focus_m = before_focus_m, .code = code};
  settings.errors = {.tilt_rad = mrad * 1e-3, .gain = 0.0};
  if (mrad == 0.0) settings.errors.between_rad = {{0.005, 0.020}};
  settings.camera.board_half_width_m = 0.45;
  settings.identify.uses_flux = false;
  const auto made = practice::set_stage(dish, settings);
  REQUIRE(made.ok());
  const practice::Stage& stage = made.value();
  CodeFigures figures;
  for (int trial = 0; trial < k_code_trials; ++trial) {
    practice::Draws draws(91, static_cast<std::uint32_t>(trial), 7);
    const auto hidden = practice::hide(stage.practice, settings.errors, draws);
    std::vector<naming::BoardLook> looks;
    std::vector<practice::Photo> seen;
    for (std::size_t photo = 0; photo < stage.codes.photos; ++photo) {
      naming::BoardLook look{.cells = naming::uncovered_in(stage.codes, photo)};
      seen.push_back(practice::observe(stage.practice, hidden, stage.truth, look.cells,
                                       settings.camera, stage.diameter_m, draws));
      look.spots = seen.back().spots;
      looks.push_back(look);
    }
    const auto found =
        naming::identify_by_codes(stage.first, stage.codes, looks, stage.settings.identify);
    REQUIRE(found.ok());
    bool is_right = true;
    for (const auto& each : found.value().findings) {
      figures.missed += each.doubt == Doubt::none ? 0.0 : 1.0 / k_code_trials;
      if (each.doubt != Doubt::none) continue;
      const auto& owners = seen[each.look].owners[each.spot];
      is_right = is_right && std::count(owners.begin(), owners.end(), each.cell) > 0;
    }
    figures.right += is_right ? 1.0 / k_code_trials : 0.0;
  }
  return figures;
}

}  // namespace

// Source: the design page's table of identification success, binary covers: P(no wrong name) at 3,
// 5, 7 mrad per axis and from 5 to 20 mrad. Gray, six photographs, 0.3 f: 1.00, 0.91, 0.65, 0.21;
// four open of eight, 0.3 f: 1.00, 0.98, 0.83, 0.59; 0.4 f: 1.00, 1.00, 1.00, 0.97. Ours do better
// (0.96 at the least), because a place with two spots in one photograph, or far from the facet's
// own, is left without a name: held from below, two sigma of 40 trials, and to all trials for the
// half-open words, where a merge has too many photographs and a miss too few.
TEST_CASE("cover codes: names are right as often as the table says, or more") {
  const struct {
    CoverCode code;
    double before_focus_m;
    std::array<double, 4> right;
    std::array<double, 4> most_missed;
  } rows[] = {
      {CoverCode::gray, 0.6, {1.00, 0.91, 0.65, 0.21}, {4.0, 4.0, 6.0, 8.0}},
      {CoverCode::half_open, 0.6, {1.00, 0.98, 0.83, 0.59}, {3.0, 3.0, 5.0, 8.0}},
      {CoverCode::half_open, 0.8, {1.00, 1.00, 1.00, 0.97}, {3.0, 3.0, 3.0, 4.0}},
  };
  const std::array<double, 4> columns{3.0, 5.0, 7.0, 0.0};
  for (const auto& row : rows) {
    for (std::size_t c = 0; c < 4; ++c) {
      const CodeFigures ours = code_figures(row.before_focus_m, row.code, columns[c]);
      const std::string line =
          fmt::format("{} m, {} mrad: {:.3f} right, {:.2f} missed, published {:.2f}",
                      row.before_focus_m, columns[c], ours.right, ours.missed, row.right[c]);
      MESSAGE(line);
      CAPTURE(line);
      CHECK(ours.right > row.right[c] - (k_is_slow ? 0.3 : 0.08));
      if (row.code == CoverCode::half_open) CHECK(ours.right > 0.999);
      CHECK(ours.missed < row.most_missed[c] + (k_is_slow ? 2.0 : 0.0));
    }
  }
}

TEST_CASE("cover codes: with all spots at one place there is next to no name") {
  // Source: the same table: 0.00 with the spots left at the stack, for they run together.
  for (const CoverCode code : {CoverCode::gray, CoverCode::half_open}) {
    CHECK(code_figures(0.0, code, 3.0).missed > 32.0);
  }
}

TEST_CASE("cover codes: a session by half-open covers is as good as one by groups") {
  const dish::Dish dish = support::reference_dish();
  practice::Settings settings{.scheme = {.before_focus_m = 0.6, .code = CoverCode::half_open},
                              .rounds = 1};
  settings.camera.board_half_width_m = 0.35;
  settings.identify.board_area_m2 = 0.49;
  const auto stage = practice::set_stage(dish, settings);
  REQUIRE(stage.ok());
  constexpr int k_sessions = k_is_slow ? 3 : 30;
  double squares = 0.0;
  double photos = 0.0;
  for (int trial = 0; trial < k_sessions; ++trial) {
    const auto session = practice::play(stage.value(), 8, static_cast<std::uint32_t>(trial));
    squares += 1e6 * base::square(session.rounds[0].rms_rad) / k_sessions;
    photos += static_cast<double>(session.rounds[0].photos) / k_sessions;
    CHECK(session.rounds[0].wrong == 0);
  }
  // Source: the table of residuals, 0.3 f in three groups from 3 mrad: 1.37; four standard errors
  // of both, and 0.05 for the looks of which only the first counts.
  const double error =
      std::hypot(practice_test::rms_error(150, 36), practice_test::rms_error(k_sessions, 36));
  CHECK(std::abs(std::sqrt(squares) - 1.37) < 4.0 * 1.37 * error + 0.05);
  CHECK(photos > 8.0);
  CHECK(photos < 12.0);
}
