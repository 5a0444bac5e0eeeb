// A whole alignment played on a practice dish: photographs, identification, checks, turns, rounds.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "practice/stage.h"

namespace practice {

struct Round {
  std::size_t photos = 0;
  std::size_t wrong = 0;   ///< facets that were corrected by another facet's spot
  std::size_t unseen = 0;  ///< facets without a spot in this round
  std::size_t facets_turned = 0;
  double turns = 0.0;    ///< told, all screws
  double rms_rad = 0.0;  ///< tilt left after it, both axes together
  double largest_rad = 0.0;
};

struct Session {
  double start_rms_rad = 0.0;
  std::vector<Round> rounds;
};

/// Plays one session. Same stage, seed and trial, same result. Each round: photographs,
/// identification, one more photograph of each doubtful facet alone, exact corrections
/// (`align::correct`) with its stop rule, told clicks; facets without a spot stay as they are.
Session play(const Stage& stage, std::uint64_t seed, std::uint32_t trial);

}  // namespace practice
