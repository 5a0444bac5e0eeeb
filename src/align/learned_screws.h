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

}  // namespace align
