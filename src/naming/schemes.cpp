// Board places and advice.
#include "naming/schemes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "naming/covers.h"

namespace naming {
namespace {

using base::Result;
using base::Vec2;

constexpr double k_half_sun_rad = 0.00465;
constexpr double k_usual_share = 0.2;
constexpr int k_first_percent = 5;
constexpr int k_last_percent = 50;

std::vector<FacetPrior> all_facets(const dish::Dish& dish, double sigma_rad) {
  std::vector<FacetPrior> priors;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) priors.push_back({i, sigma_rad, {}});
  return priors;
}

/// How far spots stray per axis: the mean of all facets' spread.
double stray_of(const std::vector<Cell>& cells, double spot_sigma_m) {
  double squares = 0.0;
  for (const Cell& cell : cells) {
    const base::Mat2 spread = spread_of(cell, spot_sigma_m);
    squares += 0.5 * (spread[0][0] + spread[1][1]);
  }
  return std::sqrt(squares / static_cast<double>(cells.size()));
}

std::string board_words(const DefocusBoard& board) {
  std::string words = fmt::format("Put a board of {:.0f} x {:.0f} mm {:.0f} mm inside the focus",
                                  2e3 * board.half_width_m, 2e3 * board.half_width_m,
                                  base::mm_from_m(board.before_focus_m));
  if (board.shaded == 0) return words + ", where it shades no facet.";
  return words +
         fmt::format("; it shades {} facet{}, which must be looked at on their own at the focus.",
                     board.shaded, board.shaded == 1 ? "" : "s");
}

std::string photo_words(const SchemeAdvice& advice, const dish::Dish& dish, double prior_rad) {
  const std::string chance =
      fmt::format("spots then keep apart with a chance of {:.2f} at {:.1f} mrad per axis",
                  advice.chance, base::mrad_from_rad(prior_rad));
  if (advice.groups == 1)
    return fmt::format(" One photo of all {}: {}.", dish.facets.size(), chance);
  return fmt::format(" Uncover the facets in {} groups, one photo each: {}.", advice.groups,
                     chance);
}

}  // namespace

dish::Board board_before_focus(const dish::Dish& dish, double before_focus_m) {
  return {.centre_m = {0.0, 0.0, dish.focal_length_m - before_focus_m},
          .lit_normal = {0.0, 0.0, -1.0},
          .up = {0.0, 1.0, 0.0}};
}

align::Sighting defocus_sighting(const dish::Dish& dish, double before_focus_m) {
  dish::Round round;
  round.board = board_before_focus(dish, before_focus_m);
  return align::sighting_of(dish, round, false);
}

Result<DefocusBoard> defocus_board(const dish::Dish& dish, double before_focus_m,
                                   const SchemeSettings& settings) {
  const auto cells = cells_of(dish, defocus_sighting(dish, before_focus_m),
                              all_facets(dish, settings.capture_rad));
  if (!cells) return cells.problems();
  DefocusBoard board{.before_focus_m = before_focus_m};
  const double penumbra = k_half_sun_rad * (dish.focal_length_m - before_focus_m);
  double inner = 1e300;
  for (const Cell& cell : cells.value()) {
    board.array_radius_m = std::max(board.array_radius_m, glm::length(cell.mark_m));
    board.capture_m = std::max(board.capture_m, most_shift_per_tilt(cell) * settings.capture_rad);
    inner = std::min(inner, glm::length(cell.place_m));
  }
  board.half_width_m = board.array_radius_m + board.capture_m;
  board.shadow_limit_m = inner - 0.5 * settings.hole_m - penumbra;
  for (const Cell& cell : cells.value()) {
    const double limit = glm::length(cell.place_m) - 0.5 * settings.hole_m - penumbra;
    board.shaded += limit < board.half_width_m ? 1 : 0;
  }
  return board;
}

Result<DefocusBoard> largest_defocus(const dish::Dish& dish, const SchemeSettings& settings) {
  for (int percent = k_last_percent; percent >= k_first_percent; --percent) {
    const auto board = defocus_board(dish, 0.01 * percent * dish.focal_length_m, settings);
    if (!board) return board.problems();
    if (board.value().half_width_m <= board.value().shadow_limit_m) return board;
  }
  return defocus_board(dish, k_usual_share * dish.focal_length_m, settings);
}

Result<SchemeAdvice> advise(const dish::Dish& dish, double prior_rad,
                            const SchemeSettings& settings) {
  if (dish.facets.empty()) return base::Problem{"facets", "none", "at least one facet"};
  const auto board = largest_defocus(dish, settings);
  if (!board) return board.problems();
  SchemeAdvice advice{.board = board.value()};
  if (dish.facets.size() <= k_few_facets) {
    advice.scheme = Scheme::one_by_one;
    advice.photos = dish.facets.size();
    advice.reason = fmt::format(
        "With {} facet{} it is quickest to uncover one at a time, with the board where the light "
        "comes together.",
        dish.facets.size(), dish.facets.size() == 1 ? "" : "s");
    return advice;
  }
  const auto cells = cells_of(dish, defocus_sighting(dish, advice.board.before_focus_m),
                              all_facets(dish, prior_rad));
  if (!cells) return cells.problems();
  std::vector<Vec2> places;
  std::vector<Vec2> marks;
  for (const Cell& cell : cells.value()) {
    places.push_back(cell.place_m);
    marks.push_back(cell.mark_m);
  }
  const double stray = stray_of(cells.value(), settings.spot_sigma_m);
  for (const std::size_t groups : cover_counts(lattice_of(places).lattice)) {
    const Cover cover = cover_in(places, groups);
    advice.groups = advice.photos = groups;
    advice.chance = chance_of_no_swap(neighbours_of(marks, cover.group_of, groups), stray);
    if (advice.chance >= settings.wanted_chance) break;
  }
  advice.reason = board_words(advice.board) + photo_words(advice, dish, prior_rad);
  advice.reason +=
      " Mask every facet to a hole, take a matte board that does not burn, and never look into the "
      "facets.";
  if (advice.chance < settings.wanted_chance) {
    advice.reason +=
        " That is not much: set the screws by caliper first, or look back with a camera, which "
        "needs no names.";
  }
  return advice;
}

const char* to_text(Scheme scheme) {
  switch (scheme) {
    case Scheme::one_by_one:
      return "one-by-one";
    case Scheme::defocus:
      return "defocus";
    case Scheme::tilt_array:
      return "tilt-array";
    case Scheme::look_back:
      return "look-back";
  }
  return "";
}

}  // namespace naming
