// Turns that somebody is told, and how well hands follow.
#pragma once

#include <array>
#include <cstddef>

namespace naming {

struct ToldTurns {
  std::size_t facet = 0;          ///< index into the dish
  std::array<double, 3> turns{};  ///< clockwise +; zero is not touched
};

struct Hands {
  double turn_sigma_turns = 1.0 / 12.0;  ///< of each screw that is turned at all
};

}  // namespace naming
