// The target board's own marks: eight printed figures at the corners and edge middles, by which a
// photograph of the board is brought to scale, whichever way up it was taken.
#pragma once

#include <array>
#include <vector>

#include "base/result.h"
#include "base/vec.h"

namespace photo {

/// Concentric circles in black and white, told apart by how many there are.
enum class MarkKind : unsigned char {
  ring,    ///< a black ring
  eye,     ///< a black ring with a black dot in it
  target,  ///< a black ring, in it a smaller one: the innermost is white
};

/// Radii at which the tone changes, from the outside, as shares of the mark's radius; the outside
/// is white, the first circle black, and so on by turns.
const std::vector<double>& circles_of(MarkKind kind);

/// A flat white board, as someone who faces its lit side sees it; its middle is (0, 0).
struct Board {
  double width_m = 0.43;
  double height_m = 0.43;
  double mark_m = 0.03;  ///< diameter of the marks
};

inline constexpr std::size_t k_marks = 8;

struct BoardMark {
  const char* name = "";
  MarkKind kind = MarkKind::eye;
  base::Vec2 place_m{0.0, 0.0};  ///< (right, up)
};

/// Marks from the top left corner clockwise: the top left is a target, the top right a ring, the
/// others are eyes, so that neither a turned nor a mirrored board looks like an upright one.
/// Middles stand three quarters of a diameter in from the edges: a white rim a quarter wide stays.
std::array<BoardMark, k_marks> marks_of(const Board& board);

/// The diameter that suits a board: a fourteenth of its shorter side in whole millimetres, 12 to
/// 80.
double good_mark_m(double width_m, double height_m);

/// Problems: sides outside 0.1 to 10 m, marks below 5 mm or so large that they touch.
base::Problems check(const Board& board);

/// Where the middle of a mark's darkness lies under a slanted view: as that of one circle with this
/// radius (each circle's own middle moves with the square of its radius).
double radius_of_darkness_m(MarkKind kind, double mark_m);

}  // namespace photo
