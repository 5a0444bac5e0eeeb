// Which figure of a photograph is which mark of the board.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "photo/mark_candidates.h"

namespace photo {

struct MarkMatch {
  std::array<int, k_marks> candidate{};  ///< index for each mark; -1 where none was found
  int found = 0;
  bool mirrored = false;  ///< the marks stand as in a mirror
};

/// The assignment that explains most figures: four of them give a projective map, under which the
/// other marks must lie within half a radius of a figure of their kind and size. Only fours with a
/// mark that differs from the rest are tried, and only figures whose distance in their own radii
/// suits the board (which a slanted view leaves nearly as it is). Among equals more of the two
/// differing marks count, then the view that is not mirrored, then the smaller misfit.
/// Nothing when fewer than four marks agree.
std::optional<MarkMatch> match_marks(const std::vector<Candidate>& candidates, const Board& board);

}  // namespace photo
