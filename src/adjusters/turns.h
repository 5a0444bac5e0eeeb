// From displacements to what a hand does: turns and clicks, which way, how it should end, and what
// travel is left.
#pragma once

#include <array>
#include <string>

#include "adjusters/screws.h"
#include "adjusters/springs.h"
#include "dish/mount.h"

namespace adjusters {

/// Turns that move a screw's corner by `rise_m` (+ to the sun): clockwise +, as seen from the side
/// the screw is turned from. Counted from nominal it is the equivalent turns so far.
double turns_from_rise(const dish::Adjuster& adjuster, double rise_m);

/// What three screws are asked to do, and where each may go.
struct ClickQuestion {
  Bracket bracket;
  std::array<double, 3> rise_per_turn_m{};  ///< see `rise_per_turn_m`
  std::array<double, 3> rise_m{};           ///< exact
  std::array<double, 3> now_m{};            ///< displacements before the move
  std::array<Interval, 3> range{};          ///< displacements allowed after it
  int clicks_per_turn = 12;
};

struct ClickAnswer {
  std::array<int, 3> clicks{};
  double slope_error_rad = 0.0;  ///< size of (alpha, beta) left over on the bracket
};

/// Whole clicks for three screws at once: of the eight ways to round each down or up, the one with
/// the least slope error (the nearest click of each alone is not always best). Ways that leave a
/// screw outside its range are taken only when all do. Among equals: fewest clicks, then the
/// first. An exact whole number of clicks (to 1e-9) is not rounded, so a held screw stays.
ClickAnswer round_to_clicks(const ClickQuestion& question);

/// The words for a number of clicks, from the side the person stands on: "1 turn and 4 clicks
/// clockwise, seen from the back"; "½ turn anticlockwise, seen from the front"; quarters where the
/// clicks allow; "leave it as it is". Clockwise from one side is anticlockwise from the other.
std::string turn_text(int clicks, int clicks_per_turn, dish::Side turned_from,
                      dish::Side seen_from);

/// "1¼ turns", "5 clicks", "2 turns and 1 click"; clicks >= 0, without a direction.
std::string amount_text(int clicks, int clicks_per_turn);

/// How a move should end so that thread and seats are loaded the same way every time: a move
/// against the loading direction goes further by the mount's backlash and comes back.
struct Finish {
  int beyond_clicks = 0;  ///< 0: simply stop there
  std::string text;       ///< empty when there is nothing to say
};

struct FinishQuestion {
  const dish::Adjuster* adjuster = nullptr;
  const dish::Spring* spring = nullptr;  ///< none: nothing is known of the loading direction
  double backlash_turns = 0.5;
  int clicks = 0;  ///< told, clockwise +
  int clicks_per_turn = 12;
  double after_m = 0.0;  ///< displacement when done
};

/// The overshoot is cut to what travel and spring leave, in whole clicks.
Finish finish_of(const FinishQuestion& question);

/// What is left each way from a displacement; negative where it is already beyond.
struct TravelLeft {
  double toward_sun_m = 0.0;
  double toward_bracket_m = 0.0;
  double clockwise_turns = 0.0;  ///< as seen from the side it is turned from
  double anticlockwise_turns = 0.0;
};

/// Travel and spring together (see `working_range`).
TravelLeft travel_left(const dish::Adjuster& adjuster, const dish::Spring* spring,
                       double displacement_m);

}  // namespace adjusters
