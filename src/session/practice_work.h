// A dish with errors that nobody sees, to learn the procedure on indoors.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "dish/dish.h"
#include "practice/hidden_dish.h"

namespace session {

struct PracticeWork {
  bool on = false;
  std::uint64_t seed = 1;
  double start_rad = 0.005;  ///< tilt per axis that is hidden at the beginning
  dish::Dish built;          ///< the dish as it really is: perhaps with its screws wired otherwise
  std::string fault;         ///< how they are, in words; empty: as the file says
  practice::Hidden hidden;
  std::uint32_t looks = 0;  ///< and turns so far: each draws random numbers of its own
  std::uint32_t turns = 0;
  double start_rms_rad = 0.0;
  std::optional<double> told_rms_rad;  ///< what is left, once the person asks
};

}  // namespace session
