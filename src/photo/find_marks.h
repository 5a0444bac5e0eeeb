// Finds the board's marks in a photograph, or says in words why that cannot be done.
#pragma once

#include <string>
#include <vector>

#include "photo/board_marks.h"
#include "photo/image.h"

namespace photo {

/// About where a person sees a mark, in pixels of the photo.
struct ClickedMark {
  std::size_t mark = 0;  ///< index into marks_of(board)
  base::Vec2 image_px{0.0, 0.0};
};

struct SeenMark {
  std::size_t mark = 0;
  base::Vec2 image_px{0.0, 0.0};
  double sigma_px = 0.0;  ///< per axis
  double radius_m = 0.0;  ///< of the circle whose middle was found (0: a point)
};

struct SeenMarks {
  std::vector<SeenMark> marks;  ///< at least four, in the board's order
  std::vector<std::string> notes;
};

/// Without clicks the marks are searched for; with at least four of them, each click is refined to
/// the figure it lies on, or stands as it is (2 px) where there is none.
/// Problems, whose place is `name`: overexposed, too dark, blurred, mirrored, no marks, fewer than
/// four, one to three clicks, a mark clicked twice, a click outside the photo.
base::Result<SeenMarks> find_marks(const Image& image, const Board& board, const std::string& name,
                                   const std::vector<ClickedMark>& clicked = {});

}  // namespace photo
