// Figures in a photograph that may be marks: nested dark and light ellipses with one middle.
#pragma once

#include <cstdint>
#include <vector>

#include "base/vec.h"
#include "photo/board_marks.h"
#include "photo/components.h"

namespace photo {

/// A figure, in pixels of the reduced picture.
struct Candidate {
  base::Vec2 centre{0.0, 0.0};
  base::Mat2 spread{1.0};  ///< second moments of the filled outline: a disc of radius r has r^2 / 4
  double area = 0.0;       ///< of the filled outline
  MarkKind kind = MarkKind::eye;
};

/// How far from a figure's middle a displacement leads, in radii of the figure in that direction.
double in_radii(const Candidate& candidate, const base::Vec2& displacement);

/// Marks-like figures among the pieces of a picture: outline an ellipse to a few percent and at
/// most 2.5 times as long as wide, circles with one middle, areas as those of circles_of() within
/// what blur and threshold change.
std::vector<Candidate> candidates_in(const Components& components);

/// Figures from several looks at one picture: of those within half a radius the larger set of
/// circles stays, and among equals the earlier.
void merge(std::vector<Candidate>& into, const std::vector<Candidate>& more);

}  // namespace photo
