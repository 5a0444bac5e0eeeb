// A spot fixes two slopes; three screws have a third freedom, how far the facet stands from its
// bracket. These are the conventions that choose it, each kept within travel and springs.
#pragma once

#include <array>
#include <cstddef>
#include <string>

#include "adjusters/springs.h"

namespace align {

enum class Piston {
  keep_height,  ///< the facet's centre keeps its height
  hold_screw,   ///< one screw is not touched
  /// Least sum of turns: the middle screw is not touched. `solve_planes` goes over to mid_range
  /// when this would leave a screw of a spring mount under 1½ turns.
  fewest_turns,
  least_largest_turn,  ///< least maximum of the three
  least_squares,       ///< least sum of squared turns
  tighten_only,        ///< no screw moves against the loading direction
  mid_range,           ///< screws as near the middle of their range as they go
};

/// Three screws, each told to rise by d + c for one common c (all along the bracket's axis).
struct PistonQuestion {
  std::array<double, 3> rise_m{};                  ///< d: rises that keep the centre's height
  std::array<double, 3> lead_m{1e-3, 1e-3, 1e-3};  ///< > 0
  std::array<double, 3> now_m{};                   ///< displacements before the move
  std::array<adjusters::Interval, 3> range{};      ///< displacements allowed after it
  std::array<std::string, 3> labels;               ///< for the words
  Piston piston = Piston::fewest_turns;
  std::size_t held = 0;  ///< for hold_screw
  int loading = -1;      ///< for tighten_only: sign of a rise that tightens
};

struct PistonChoice {
  double wished_m = 0.0;         ///< c that the convention asks for
  double chosen_m = 0.0;         ///< c within what all three screws can do
  adjusters::Interval feasible;  ///< of c; empty: the middle of the gap was taken
  std::string unmet;             ///< what could not be had, as a sentence; empty when all was
};

/// c is the convention's optimum in closed form, then clipped to the feasible interval
///   least = max_k(least_k - now_k - d_k), most = min_k(most_k - now_k - d_k);
/// an empty interval gives (least + most) / 2. Source: derived; every convention is convex in c.
PistonChoice choose_piston(const PistonQuestion& question);

}  // namespace align
