// A band of possible places between the two flanks.
#include "align/play.h"

#include <algorithm>

namespace align {

PlayAhead play_ahead(const std::vector<double>& turned, double play_turns) {
  if (turned.empty()) return {};
  double least = 0.0;
  double most = play_turns;
  for (const double turn : turned) {
    least = std::clamp(least + turn, 0.0, play_turns);
    most = std::clamp(most + turn, 0.0, play_turns);
  }
  const double place = 0.5 * (least + most);
  return {.clockwise = play_turns - place, .anticlockwise = place};
}

}  // namespace align
