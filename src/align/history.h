// What the log of rounds says of each facet: looks at its spot and the turns between them, all
// brought to one light and one board.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "align/facet_setup.h"
#include "align/observe.h"
#include "align/response.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

/// One sight of a facet's spot.
struct Look {
  std::size_t round = 0;
  base::Vec2 seen_m{0.0, 0.0};  ///< as it would lie on the board of the history
  double sigma_m = 0.0;
};

/// What was turned between two looks, clockwise turns of each screw in the mount's order.
struct Move {
  Turns told{};
  Turns done{};
  Response nominal{};                  ///< m per turn, half way through the move
  std::array<double, 3> half_way_m{};  ///< displacements from nominal there
  std::array<bool, 3> reversed{};      ///< turned against the last turn before it that is logged
};

struct FacetHistory {
  std::size_t facet = 0;  ///< index into the dish
  std::vector<Look> looks;
  std::vector<Move> moves;  ///< one less than looks
  Move since;               ///< turned after the last look
  /// Each screw's logged turns before the last look, in order, clockwise +.
  std::array<std::vector<double>, 3> turned;
};

struct HistoryRequest {
  std::size_t rounds = 0;       ///< how many of the dish's rounds count, from the first
  Sighting sighting;            ///< light and board that all looks are brought to
  double spot_sigma_m = 0.002;  ///< per axis, of spots that bring none
};

/// Histories of the facets that were seen at least once, in the dish's order.
///
/// Turns logged in a round were made after its spots were seen. A spot seen under another light or
/// on another board is carried over by the normal it tells. When a round leaves the shifts to the
/// tracker, whatever all its facets moved by together until the next round is taken out (median
/// over at least `k_facets_for_shift` facets), because the tracker was set meanwhile.
/// Facets, spots and screws that cannot be worked out are left out.
std::vector<FacetHistory> histories_of(const dish::Dish& dish, const HistoryRequest& request);

inline constexpr std::size_t k_facets_for_shift = 6;

/// Rounds of the dish that came before this one: the round by its place when it is one of the
/// dish's own, else the last of the same name and content; all of them when it is none of those.
std::size_t rounds_before(const dish::Dish& dish, const dish::Round& round);

/// One round more, as if it were logged: for a round that is not in the dish.
dish::Dish with_round(dish::Dish dish, const dish::Round& round);

/// The logged turns of a facet in a round, by the mount's order of screws.
Turns turns_in(const std::vector<dish::Turned>& log, const dish::FacetId& facet,
               const dish::Mount& mount);

}  // namespace align
