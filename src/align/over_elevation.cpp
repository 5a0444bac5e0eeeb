// Slopes of the modes over the cosine of elevation.
#include "align/over_elevation.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "align/causes.h"
#include "base/elementary.h"
#include "base/units.h"
#include "optics/canting.h"

namespace align {
namespace {

using base::Vec2;

constexpr double k_sure_sigmas = 3.0;
constexpr std::size_t k_least_seen = 6;

/// What all rounds with an elevation saw of the facets that they all saw.
struct Sights {
  std::vector<std::size_t> rounds;
  std::vector<double> cosine;                  ///< of each round's elevation
  std::vector<Vec2> places_m;                  ///< of each facet
  std::vector<std::vector<Vec2>> as_if_still;  ///< by round and facet, without the logged turns
  std::vector<Vec2> last_error_m;              ///< of each facet in the last of the rounds
};

/// Looks of a facet in the given rounds, the turns before each taken off; empty when one is
/// missing.
std::vector<Vec2> looks_in(const dish::Dish& dish, const FacetHistory& history,
                           const LearningRequest& learning, const std::vector<std::size_t>& rounds,
                           Vec2& last_seen_m) {
  std::vector<Vec2> looks;
  Vec2 turned{0.0, 0.0};
  for (std::size_t l = 0; l < history.looks.size(); ++l) {
    if (l > 0) {
      const Move& move = history.moves[l - 1];
      turned += shift_of_turns(move.nominal, effective_turns(dish, history, move, learning));
    }
    if (std::find(rounds.begin(), rounds.end(), history.looks[l].round) == rounds.end()) continue;
    last_seen_m = history.looks[l].seen_m;
    looks.push_back(last_seen_m - turned);
  }
  if (looks.size() != rounds.size()) looks.clear();
  return looks;
}

Sights sights_of(const dish::Dish& dish, const std::vector<FacetHistory>& histories,
                 const Sighting& sighting, const LearningRequest& learning) {
  Sights sights;
  for (std::size_t r = 0; r < dish.rounds.size(); ++r) {
    if (!dish.rounds[r].elevation_rad || dish.rounds[r].spots.empty()) continue;
    sights.rounds.push_back(r);
    sights.cosine.push_back(std::cos(*dish.rounds[r].elevation_rad));
  }
  sights.as_if_still.resize(sights.rounds.size());
  for (const FacetHistory& history : histories) {
    Vec2 last_seen{0.0, 0.0};
    const auto looks = looks_in(dish, history, learning, sights.rounds, last_seen);
    const dish::Facet& facet = dish.facets[history.facet];
    const auto pose = optics::nominal_pose(dish, facet);
    if (looks.empty() || !pose) continue;
    const auto mark = expected_mark(dish, facet, pose.value(), sighting);
    if (!mark) continue;
    const auto sunward = [&](const Vec2& on_board) {
      return sunward_from_board(sighting.dish_from_board, on_board);
    };
    sights.places_m.emplace_back(pose.value().centre.x, pose.value().centre.y);
    sights.last_error_m.push_back(sunward(last_seen - mark.value().board_m));
    for (std::size_t r = 0; r < looks.size(); ++r) {
      sights.as_if_still[r].push_back(sunward(looks[r]));
    }
  }
  return sights;
}

/// Modes of each round against the mean of all rounds.
std::optional<std::vector<ModeFit>> fits_of(const Sights& sights) {
  std::vector<Vec2> mean(sights.places_m.size(), Vec2{0.0, 0.0});
  const auto count = static_cast<double>(sights.rounds.size());
  for (const auto& round : sights.as_if_still) {
    for (std::size_t i = 0; i < mean.size(); ++i) mean[i] += round[i] / count;
  }
  std::vector<ModeFit> fits;
  for (const auto& round : sights.as_if_still) {
    std::vector<Vec2> off;
    for (std::size_t i = 0; i < mean.size(); ++i) off.push_back(round[i] - mean[i]);
    auto fit = fit_modes(sights.places_m, off, Estimator::tukey);
    if (!fit) return std::nullopt;
    fits.push_back(std::move(fit).value());
  }
  return fits;
}

/// Slope of one mode over the cosine. A round's offset from the mean of R rounds has (R - 1) / R of
/// one round's variance.
void find_slope(const Sights& sights, const std::vector<ModeFit>& fits, ModeOverElevation& found) {
  const auto m = static_cast<std::size_t>(found.mode);
  const auto count = static_cast<double>(fits.size());
  double mean = 0.0;
  for (const double cosine : sights.cosine) mean += cosine / count;
  double squares = 0.0;
  double pull = 0.0;
  double variance = 0.0;
  for (std::size_t r = 0; r < fits.size(); ++r) {
    const double off = sights.cosine[r] - mean;
    squares += off * off;
    pull += off * fits[r].value[m];
    variance += base::square(fits[r].sigma[m]) / (count - 1.0);
  }
  found.per_cosine = pull / squares;
  found.per_cosine_sigma = std::sqrt(variance / squares);
}

std::string where_to(const OverElevation& over, const ModeOverElevation& found, double lever_m) {
  const auto mm = [&](double value, double sigma) {
    return fmt::format("{:.1f} ± {:.1f} mm", base::mm_from_m(value * lever_m),
                       base::mm_from_m(sigma * lever_m));
  };
  const std::string between =
      fmt::format("From {:.0f} to {:.0f} degrees of elevation", base::deg_from_rad(over.lowest_rad),
                  base::deg_from_rad(over.highest_rad));
  const std::string size = mm(std::abs(found.per_cosine), found.per_cosine_sigma);
  if (found.mode == Mode::shift_x || found.mode == Mode::shift_y) {
    return fmt::format(
        "{} all spots move {:.1f} mm along {}: frame or arm give way to gravity, by {} from the "
        "zenith to the horizon. A tracker offset cannot follow that. Give the tracker a table over "
        "elevation, or align where most light is collected, which leaves half the way on either "
        "side. The constant part, {} along the same, is the tracker's offset.",
        between, base::mm_from_m(found.change_m), found.mode == Mode::shift_x ? "x" : "y", size,
        mm(found.constant, found.constant_sigma));
  }
  return fmt::format(
      "{} the spots at the rim move {:.1f} mm as {}: the frame bends with gravity, by {} from the "
      "zenith to the horizon. Stiffen it or tension its rods; screws can take it at one elevation "
      "only, best where most light is collected.",
      between, base::mm_from_m(found.change_m),
      found.mode == Mode::radial ? "a spread"
                                 : (found.mode == Mode::swirl ? "a swirl" : "a saddle"),
      size);
}

/// Whether the tracker was set between two of the rounds: the shifts then tell nothing.
bool tracker_was_set(const dish::Dish& dish, const std::vector<std::size_t>& rounds) {
  for (std::size_t r = rounds.front(); r < rounds.back(); ++r) {
    if (dish.rounds[r].left_out[0] || dish.rounds[r].left_out[1]) return true;
  }
  return false;
}

void find_modes(const dish::Dish& dish, const Sights& sights, double least_m, OverElevation& over) {
  const auto fits = fits_of(sights);
  const auto last = fit_modes(sights.places_m, sights.last_error_m, Estimator::tukey);
  if (!fits || !last) return;
  const bool was_set = tracker_was_set(dish, sights.rounds);
  if (was_set) {
    over.note =
        "The tracker was set between rounds at different elevations, so their common shifts "
        "do not tell what gravity does.";
  }
  double rim_m = 0.0;
  for (const Vec2& place : sights.places_m) rim_m = std::max(rim_m, glm::length(place));
  const auto [least, most] = std::minmax_element(sights.cosine.begin(), sights.cosine.end());
  for (std::size_t m = was_set ? 2 : 0; m < k_modes; ++m) {
    ModeOverElevation found{.mode = static_cast<Mode>(m)};
    find_slope(sights, *fits, found);
    const double lever_m = m < 2 ? 1.0 : rim_m;
    const double cosine = sights.cosine.back();
    found.constant = last.value().value[m] - found.per_cosine * cosine;
    found.constant_sigma = std::hypot(last.value().sigma[m], found.per_cosine_sigma * cosine);
    found.change_m = std::abs(found.per_cosine) * (*most - *least) * lever_m;
    found.significant = std::abs(found.per_cosine) > k_sure_sigmas * found.per_cosine_sigma &&
                        found.change_m > least_m;
    if (found.significant) found.sentence = where_to(over, found, lever_m);
    over.modes.push_back(std::move(found));
  }
}

}  // namespace

OverElevation over_elevation(const dish::Dish& dish, const std::vector<FacetHistory>& histories,
                             const Sighting& sighting, const LearningRequest& learning,
                             double least_m) {
  const Sights sights = sights_of(dish, histories, sighting, learning);
  OverElevation over{.rounds = sights.rounds.size()};
  if (over.rounds < 2) return over;
  std::vector<double> elevations;
  for (const std::size_t r : sights.rounds) elevations.push_back(*dish.rounds[r].elevation_rad);
  const auto [lowest, highest] = std::minmax_element(elevations.begin(), elevations.end());
  over.lowest_rad = *lowest;
  over.highest_rad = *highest;
  const auto [least, most] = std::minmax_element(sights.cosine.begin(), sights.cosine.end());
  if (*most - *least < k_least_cosine_range) {
    over.note =
        "The rounds lie too near each other in elevation to tell what gravity does: look at "
        "25 and at 65 degrees, for instance.";
  } else if (sights.places_m.size() < k_least_seen) {
    over.note = fmt::format(
        "{} facets were seen in every round that tells its elevation; it takes {} to tell what "
        "gravity does.",
        sights.places_m.size(), k_least_seen);
  } else {
    find_modes(dish, sights, least_m, over);
  }
  return over;
}

}  // namespace align
