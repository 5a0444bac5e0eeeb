// The board's marks as a page to print at true scale.
#pragma once

#include <string>

#include "photo/board_marks.h"

namespace photo {

/// An HTML page of A4 sheets, each with some of the eight tiles and a 100 mm rule to check the
/// print by. A tile shows its mark, its name, and the board's edges it is laid against; dashed
/// lines are to be cut. The first sheet has a list of where the marks' middles must stand.
/// `board` must be without problems (check()).
std::string board_sheet(const Board& board);

}  // namespace photo
