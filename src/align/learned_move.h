// Turns for screws that do not move a facet quite as the file says.
#pragma once

#include <array>
#include <optional>

#include "align/learned_screws.h"
#include "align/response.h"
#include "align/solve.h"

namespace align {

struct LearnedMove {
  std::array<double, 3> rise_m{};  ///< told turns as rises by the file's own lead
  RisePerTurn rise_per_turn_m{};   ///< what a turn really does
  PistonChoice piston;
};

/// The move that has the effect of `planes.rise_m` with the learned columns: F t = F0 t0, both
/// taken half way through the move. The freedom that no spot tells goes along the null space of F,
/// by the same convention and within the same travel as in `solve_planes`. Nothing when the columns
/// cannot move the spot everywhere, or would need their screws to move against each other for that.
std::optional<LearnedMove> learned_move(const FacetSetup& setup, const Sighting& sighting,
                                        const Planes& planes, const SolveRequest& request,
                                        const LearnedScrews& learned);

/// The columns with what was learned.
Response with_learned(const Response& nominal, const LearnedScrews& learned);

}  // namespace align
