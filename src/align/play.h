// What a screw loses before it moves its facet: play, and how much of it earlier turns took up.
#pragma once

#include <array>
#include <vector>

namespace align {

/// Turns that would only take up play, whichever way a screw is turned next, >= 0.
struct PlayAhead {
  double clockwise = 0.0;
  double anticlockwise = 0.0;
};

/// After turns in order, clockwise +, of a screw that loses `play_turns` when it is turned back.
/// Where it stood before the first of them is not known: as long as that matters, the middle of
/// what is possible. A screw without any turn loses nothing that is known of.
/// Source: derived; the screw follows its nut's flanks, place' = clamp(place + turn, 0, play).
PlayAhead play_ahead(const std::vector<double>& turned, double play_turns);

/// What a facet's screws lose when they are turned on or back.
struct LearnedPlay {
  double turns = 0.0;  ///< lost by a screw whose direction changes, >= 0
  std::array<PlayAhead, 3> ahead{};
};

}  // namespace align
