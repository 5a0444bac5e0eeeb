// How a facet's screws really move its spot.
#pragma once

#include <array>

namespace align {

/// What earlier rounds taught of a facet's three screws.
struct LearnedScrews {
  std::array<double, 3> along{1.0, 1.0, 1.0};   ///< share of the nominal column
  std::array<double, 3> across{0.0, 0.0, 0.0};  ///< share of it turned by +90 degrees
  std::array<double, 3> sigma{};                ///< of `along`; 0: nothing was learned
};

/// What a facet's screws lose when they are turned back.
struct LearnedPlay {
  double turns = 0.0;             ///< lost by a screw whose direction changes, >= 0
  std::array<int, 3> last_way{};  ///< of each screw's last turn, clockwise + 1; 0: not known
};

}  // namespace align
