// The exact planes of one facet: the one its reading tells, and the one that sends the light to its
// aim, with the rises that lead from the first to the second.
#pragma once

#include <array>
#include <cstddef>

#include "adjusters/screws.h"
#include "align/correct.h"
#include "align/evidence.h"
#include "align/facet_setup.h"
#include "align/piston.h"
#include "base/result.h"

namespace align {

struct SolveRequest {
  Piston piston = Piston::fewest_turns;
  std::size_t held = 0;  ///< for hold_screw
  Pivot pivot = Pivot::mount;
};

struct Planes {
  adjusters::Heights now_m{};      ///< heights as the reading tells them
  std::array<double, 3> rise_m{};  ///< exact, + to the sun
  adjusters::FacePose actual;
  adjusters::FacePose desired;
  PistonChoice piston;
};

/// See `correct`. Fixed points to 1e-12 m of the centre, at most 60 steps each. `step` changes the
/// reading, in its own units.
base::Result<Planes> solve_planes(const FacetSetup& setup, const Evidence& evidence,
                                  const base::Vec2& step, const SolveRequest& request);

/// What `choose_piston` is asked of a facet, but for the rises.
PistonQuestion piston_question(const FacetSetup& setup, const SolveRequest& request,
                               const adjusters::Heights& now_m);

/// Pose at given heights; with a fixed pivot the centre stays at nominal.
adjusters::FacePose pose_at(const FacetSetup& setup, const adjusters::Heights& heights_m,
                            Pivot pivot);

}  // namespace align
