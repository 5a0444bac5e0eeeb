// How often no facet is taken for another, against the rates that the method was designed by.
//
// Source: the design page's table of identification success: 36 facets (f 2 m, hexagons 250 mm
// apart), 2 mm centroid noise, 1 % of the spots missed, 0.1 false spots in a photograph, merging
// below 0.9 diameters, 100 trials a figure, no checks, no common shift, no use of the light.
// Tolerance: 3 standard errors of the difference of two shares, theirs of 100 trials and ours.
// Coded nudges do better here than published (0.995, 0.95, 0.845, 0.675 against 0.97, 0.81, 0.61,
// 0.34), because a spot counts only together with its partner; that row is held from below.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "naming/coded_nudge.h"
#include "naming/covers.h"
#include "naming/edge_sweep.h"
#include "naming/identify.h"
#include "naming/schemes.h"
#include "naming/tilt_array.h"
#include "practice/camera.h"
#include "practice/hidden_dish.h"
#include "support/reference_dish.h"
#include "trials.h"

namespace {

using naming::Doubt;
using practice::Draws;
using practice::Hidden;
using practice::Photo;
using practice_test::k_rate_trials;

constexpr int k_published_trials = 100;
constexpr int k_sweep_trials = practice_test::k_is_slow ? 6 : 100;
constexpr double k_most_score = 3.0;

/// Tilts of one column of the table; 0: of 5 to 20 mrad in any direction.
practice::HiddenErrors errors_of(double mrad) {
  practice::HiddenErrors errors{.tilt_rad = mrad * 1e-3, .gain = 0.0};
  if (mrad == 0.0) errors.between_rad = {{0.005, 0.020}};
  return errors;
}

double sigma_of(double mrad) { return mrad == 0.0 ? 0.00935 : mrad * 1e-3; }

struct RateScene {
  const dish::Dish& dish;
  const practice::DishSetup& practice;
  align::Sighting believed;
  align::Sighting truth;
  naming::IdentifyTarget target;
  practice::Camera camera;
  naming::IdentifySettings settings;
  std::vector<naming::FacetPrior> priors;

  RateScene(const dish::Dish& reference, const practice::DishSetup& practised, double mrad,
            double before_focus_m, const std::vector<naming::ArrayTurns>& array = {})
      : dish(reference), practice(practised) {
    believed = truth = naming::defocus_sighting(dish, before_focus_m);
    for (std::size_t i = 0; i < dish.facets.size(); ++i) {
      priors.push_back({i, sigma_of(mrad), {}});
      if (!array.empty()) priors.back().displacement_m = array[i].displacement_m;
    }
    target = naming::target_of(dish, believed, priors).value();
    camera.board_half_width_m = array.empty() ? 0.35 : 0.6;
    settings.board_area_m2 = 4.0 * base::square(camera.board_half_width_m);
    settings.spot_diameter_m = practice::spot_diameter_m(2.0, before_focus_m, camera.hole_m);
    settings.uses_flux = false;
    settings.fits_common_shift = false;
  }

  [[nodiscard]] Photo photograph(const Hidden& hidden, const std::vector<std::size_t>& facets,
                                 Draws& draws) const {
    return practice::observe(practice, hidden, truth, facets, camera, settings.spot_diameter_m,
                             draws);
  }
};

bool is_owner(const Photo& seen, std::size_t spot, std::size_t facet) {
  const auto& owners = seen.owners[spot];
  return std::find(owners.begin(), owners.end(), facet) != owners.end();
}

std::vector<std::size_t> everybody(const dish::Dish& dish) {
  std::vector<std::size_t> facets(dish.facets.size());
  std::iota(facets.begin(), facets.end(), std::size_t{0});
  return facets;
}

/// No wrong name in one trial of groups, one photograph each.
bool is_right(const RateScene& scene, const naming::Cover& cover, const Hidden& hidden,
              Draws& draws) {
  std::vector<naming::BoardLook> looks;
  std::vector<Photo> seen;
  for (std::size_t g = 0; g < cover.groups; ++g) {
    naming::BoardLook look;
    for (std::size_t c = 0; c < cover.group_of.size(); ++c) {
      if (cover.group_of[c] == g) look.cells.push_back(c);
    }
    seen.push_back(scene.photograph(hidden, look.cells, draws));
    look.spots = seen.back().spots;
    looks.push_back(look);
  }
  const auto found = naming::identify(scene.target, looks, scene.settings);
  REQUIRE(found.ok());
  return std::all_of(found.value().findings.begin(), found.value().findings.end(),
                     [&](const naming::Finding& each) {
                       return each.doubt == Doubt::missing ||
                              is_owner(seen[each.look], each.spot, each.cell);
                     });
}

double rate_of(const RateScene& scene, std::size_t groups, double mrad,
               const std::vector<naming::ArrayTurns>& array = {}) {
  std::vector<base::Vec2> places;
  for (const naming::Cell& cell : scene.target.cells) places.push_back(cell.place_m);
  const naming::Cover cover = naming::cover_in(places, groups);
  int right = 0;
  for (int trial = 0; trial < k_rate_trials; ++trial) {
    Draws draws(2024, static_cast<std::uint32_t>(trial), 7);
    Hidden hidden = practice::hide(scene.practice, errors_of(mrad), draws);
    for (const naming::ArrayTurns& turns : array) {
      for (std::size_t k = 0; k < 3; ++k) {
        hidden.displacement_m[turns.facet][k] += turns.displacement_m[k];
      }
    }
    right += is_right(scene, cover, hidden, draws) ? 1 : 0;
  }
  return static_cast<double>(right) / k_rate_trials;
}

void check_rate(const std::string& what, double ours, double published) {
  const double score =
      practice_test::share_score(ours, k_rate_trials, published, k_published_trials);
  const std::string line = fmt::format("{}: {:.3f}, published {:.2f}", what, ours, published);
  CAPTURE(line);
  CHECK(std::abs(score) < k_most_score);
}

/// When each spot of a photograph goes out as an edge passes, which tells its place to 25 mm; one
/// of several facets' light with the last of them. The edge slows down on the far side.
std::vector<naming::Sweep> sweeps_of(const RateScene& scene, const Photo& seen, Draws& draws) {
  std::vector<naming::Sweep> sweeps{{naming::k_first_sweep_rad, {}},
                                    {naming::k_second_sweep_rad, {}}};
  for (naming::Sweep& sweep : sweeps) {
    const base::Vec2 way{std::cos(sweep.direction_rad), std::sin(sweep.direction_rad)};
    for (const auto& owners : seen.owners) {
      std::optional<double> out;
      for (const std::size_t facet : owners) {
        const double at = glm::dot(way, scene.target.cells[facet].place_m) + 0.025 * draws.normal();
        const double time = 3.0 + 2.0 * at + 0.4 * at * at;
        out = std::max(out.value_or(time), time);
      }
      sweep.out_at.push_back(out);
    }
  }
  return sweeps;
}

/// Names of one trial, without the doubtful ones.
struct SweepOutcome {
  int wrong = 0;
  int missing = 0;
};

SweepOutcome sweep_once(const RateScene& scene, double mrad, int trial) {
  Draws draws(78, static_cast<std::uint32_t>(trial), 7);
  const Hidden hidden = practice::hide(scene.practice, errors_of(mrad), draws);
  const Photo seen = scene.photograph(hidden, everybody(scene.dish), draws);
  const auto sweeps = sweeps_of(scene, seen, draws);
  const auto found = naming::identify_by_sweeps(scene.target, seen.spots, sweeps, {});
  REQUIRE(found.ok());
  SweepOutcome outcome;
  for (const auto& each : found.value().findings) {
    if (each.doubt != Doubt::none) {
      ++outcome.missing;
    } else if (!is_owner(seen, each.spot, each.cell)) {
      ++outcome.wrong;
    }
  }
  return outcome;
}

struct PublishedRow {
  double before_focus_m;
  std::size_t groups;
  std::vector<std::pair<double, double>> rates;  ///< mrad (0: 5 to 20) and the published share
};

}  // namespace

TEST_CASE("identification rates: boards inside the focus, whole and in groups") {
  const dish::Dish dish = support::reference_dish();
  const auto practice = practice::set_up(dish).value();
  const PublishedRow rows[] = {
      {0.4, 1, {{2.0, 0.98}, {3.0, 0.97}, {5.0, 0.22}, {7.0, 0.01}, {0.0, 0.00}}},
      {0.4, 3, {{2.0, 0.99}, {3.0, 0.99}, {5.0, 0.98}, {7.0, 0.75}, {0.0, 0.21}}},
      {0.4, 4, {{3.0, 0.99}, {5.0, 0.98}, {7.0, 0.86}, {0.0, 0.59}}},
      {0.4, 7, {{2.0, 1.00}, {3.0, 1.00}, {5.0, 0.95}, {7.0, 0.96}}},
      {0.6, 1, {{2.0, 1.00}, {3.0, 1.00}, {5.0, 0.98}, {7.0, 0.69}, {0.0, 0.15}}},
      {0.6, 3, {{3.0, 1.00}, {5.0, 1.00}, {7.0, 0.99}, {0.0, 0.96}}},
      {0.8, 1, {{3.0, 1.00}, {5.0, 1.00}, {7.0, 0.98}, {0.0, 0.94}}},
  };
  for (const PublishedRow& row : rows) {
    for (const auto& rate : row.rates) {
      const RateScene scene(dish, practice, rate.first, row.before_focus_m);
      check_rate(fmt::format("{} m inside the focus, {} groups, {} mrad", row.before_focus_m,
                             row.groups, rate.first),
                 rate_of(scene, row.groups, rate.first), rate.second);
    }
  }
}

TEST_CASE("identification rates: tilt arrays at the focus") {
  const dish::Dish dish = support::reference_dish();
  const auto practice = practice::set_up(dish).value();
  const std::pair<double, std::vector<std::pair<double, double>>> rows[] = {
      {0.075, {{2.0, 0.99}, {3.0, 0.99}, {5.0, 0.60}, {7.0, 0.03}, {0.0, 0.00}}},
      {0.100, {{2.0, 1.00}, {3.0, 1.00}, {5.0, 0.94}, {7.0, 0.58}, {0.0, 0.04}}},
      {0.150, {{2.0, 1.00}, {3.0, 0.99}, {5.0, 0.98}, {7.0, 0.97}, {0.0, 0.92}}},
  };
  const auto sighting = naming::defocus_sighting(dish, 0.0);
  for (const auto& row : rows) {
    const auto array = naming::tilt_array(dish, sighting, row.first);
    REQUIRE(array.ok());
    for (const auto& rate : row.second) {
      const RateScene scene(dish, practice, rate.first, 0.0, array.value());
      check_rate(fmt::format("tilt array {} m, {} mrad", row.first, rate.first),
                 rate_of(scene, 1, rate.first, array.value()), rate.second);
    }
  }
}

TEST_CASE("identification rates: a board that stands off, with the common shift fitted") {
  // Source: the design page's figures for 0.2 f, 2 mrad, boards shifted and too far: without the
  // fit 0.48 at 20 mm + 10 mm and 0.00 at 30 mm + 15 mm, with it 1.00 and 0.99.
  const dish::Dish dish = support::reference_dish();
  const auto practice = practice::set_up(dish).value();
  const struct {
    double shift_m, off_m, without, with;
  } rows[] = {{0.010, 0.0, 1.00, 1.00}, {0.020, 0.010, 0.48, 1.00}, {0.030, 0.015, 0.00, 0.99}};
  for (const auto& row : rows) {
    RateScene scene(dish, practice, 2.0, 0.4);
    // The table's shift is that of the spots, in any one direction.
    scene.truth.dish_from_board.origin +=
        row.shift_m * scene.truth.dish_from_board.x() - row.off_m * scene.truth.dish_from_board.z();
    const double without = rate_of(scene, 1, 2.0);
    scene.settings.fits_common_shift = true;
    const double with = rate_of(scene, 1, 2.0);
    check_rate(fmt::format("{} m off, fitted", row.shift_m), with, row.with);
    CAPTURE(without);
    CHECK(without <= with + 0.02);
    if (row.without < 0.01) CHECK(without < 0.05);
  }
}

TEST_CASE("identification rates: the light of merged spots helps") {
  const dish::Dish dish = support::reference_dish();
  const auto practice = practice::set_up(dish).value();
  RateScene scene(dish, practice, 5.0, 0.4);
  const double blind = rate_of(scene, 1, 5.0);
  scene.settings.uses_flux = true;
  const double aware = rate_of(scene, 1, 5.0);
  CAPTURE(blind);
  CAPTURE(aware);
  CHECK(aware > blind);
}

TEST_CASE("identification rates: coded nudges") {
  const dish::Dish dish = support::reference_dish();
  const auto practice = practice::set_up(dish).value();
  const auto nudges = naming::coded_nudges(dish);
  REQUIRE(nudges.ok());
  const std::pair<double, double> rates[] = {{3.0, 0.97}, {5.0, 0.81}, {7.0, 0.61}, {0.0, 0.34}};
  for (const auto& rate : rates) {
    const RateScene scene(dish, practice, rate.first, 0.4);
    int right = 0;
    for (int trial = 0; trial < k_rate_trials; ++trial) {
      Draws draws(77, static_cast<std::uint32_t>(trial), 7);
      Hidden hidden = practice::hide(practice, errors_of(rate.first), draws);
      const Photo before = scene.photograph(hidden, everybody(dish), draws);
      practice::turn(practice, hidden, nudges.value(), {}, draws);
      const Photo after = scene.photograph(hidden, everybody(dish), draws);
      const auto found = naming::identify_nudged(dish, scene.believed, scene.priors, nudges.value(),
                                                 {before.spots, after.spots}, scene.settings, {});
      REQUIRE(found.ok());
      right += std::all_of(found.value().begin(), found.value().end(), [&](const auto& each) {
        return !each.has_after || (is_owner(before, each.finding.spot, each.finding.cell) &&
                                   is_owner(after, each.after, each.finding.cell));
      });
    }
    const double ours = static_cast<double>(right) / k_rate_trials;
    MESSAGE(fmt::format("coded nudge {} mrad: {:.3f}, published {:.2f}", rate.first, ours,
                        rate.second));
    CHECK(ours > rate.second - 0.15);
  }
}

TEST_CASE("identification rates: an edge that crosses the dish twice") {
  // Source: the design page: 1.00 in every column, 25 mm timing error; 1.4, 6.6, 10, 11 facets
  // missed at 0.2 f and 0.3, 0.6, 1.8, 5.3 at 0.3 f. Doubtful ones count as missed. Missed today:
  // 1.5, 7.0, 10.2, 10.8 and 0.2, 0.4, 1.8, 4.6. Every trial is held to be right; a longer run had
  // 2 of 2400 wrong at 0.2 f.
  const dish::Dish dish = support::reference_dish();
  const auto practice = practice::set_up(dish).value();
  const struct {
    double before_focus_m;
    int trials;
    std::pair<double, double> missed[4];  ///< mrad (0: 5 to 20) and the published number
  } rows[] = {{0.4, k_sweep_trials, {{3.0, 1.4}, {5.0, 6.6}, {7.0, 10.0}, {0.0, 11.0}}},
              {0.6, k_sweep_trials / 2, {{3.0, 0.3}, {5.0, 0.6}, {7.0, 1.8}, {0.0, 5.3}}}};
  for (const auto& row : rows) {
    for (const auto& column : row.missed) {
      const RateScene scene(dish, practice, column.first, row.before_focus_m);
      int wrong_trials = 0;
      double missing = 0.0;
      for (int trial = 0; trial < row.trials; ++trial) {
        const SweepOutcome outcome = sweep_once(scene, column.first, trial);
        wrong_trials += outcome.wrong > 0 ? 1 : 0;
        missing += static_cast<double>(outcome.missing) / row.trials;
      }
      const std::string line = fmt::format(
          "edge sweep {} m, {} mrad: {} of {} wrong, {:.2f} missed, published {:.1f}",
          row.before_focus_m, column.first, wrong_trials, row.trials, missing, column.second);
      MESSAGE(line);
      CAPTURE(line);
      CHECK(wrong_trials == 0);
      // A trial's number scatters by one and a half or so; few are run under sanitizers.
      const double sampling = 3.0 / std::sqrt(row.trials);
      CHECK(std::abs(missing - column.second) < 0.25 * column.second + sampling);
    }
  }
}
