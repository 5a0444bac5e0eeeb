// Between a photograph's pixels and places on the board: a flat board seen through a lens that
// bends straight lines a little.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/vec.h"
#include "photo/find_marks.h"

namespace photo {

inline constexpr std::size_t k_view_unknowns = 9;

/// A place (right, up) on the board goes by a projective map to x, in units of `focal_px` from the
/// picture's middle, and then by the lens to x (1 + k1 |x|^2).
struct Rectification {
  base::Vec2 middle_px{0.0, 0.0};
  double focal_px = 1.0;
  double unit_m = 1.0;  ///< the map's unit on the board
  /// The map's rows [0 1 2], [3 4 5], [6 7 and 1], then k1.
  std::array<double, k_view_unknowns> unknowns{};
  std::array<double, k_view_unknowns * k_view_unknowns> covariance{};
  bool k1_is_fitted = false;    ///< from six marks on; below, k1 stays 0 and counts as uncertain
  std::vector<SeenMark> marks;  ///< those that were used
  std::vector<base::Vec2> residuals_px;  ///< seen less expected, one for each mark
  double misfit = 1.0;  ///< root of chi^2 per degree of freedom, when that is above 1
  std::vector<std::string> notes;

  [[nodiscard]] double k1() const { return unknowns[8]; }
};

/// Fits the map and k1 together by Gauss-Newton steps from the direct linear transform, each mark
/// weighed by its uncertainty. What is compared is the middle of the ellipse that a mark's circle
/// becomes, which is not the image of the circle's middle (from the dual conic; derived). k1
/// counts as 0 +- 0.03 beforehand, as of a telephone's main camera (common practice, no source), so
/// four marks give the exact map and the uncertainty that the unknown lens leaves. Of six marks or
/// more, one after the other whose residual exceeds 5 sigma and half a pixel is left out, with a
/// note. `focal_px` 0: 0.72 of the longer side, a lens as of 26 mm on 36 x 24 mm film; k1 scales
/// with its square, nothing else depends on it.
/// Problems, whose place is `name`: those of homography_through, a fit that does not settle.
base::Result<Rectification> rectify(const std::vector<SeenMark>& marks, const Board& board,
                                    const base::Vec2& size_px, const std::string& name,
                                    double focal_px = 0.0);

/// Where a place on the board is seen, px; nothing for one behind the camera.
std::optional<base::Vec2> to_image(const Rectification& view, const base::Vec2& board_m);

/// The place on the board that is seen there; nothing beyond the board's horizon or where the lens
/// model folds.
std::optional<base::Vec2> to_board(const Rectification& view, const base::Vec2& image_px);

/// Uncertainty per axis that the marks leave to a place on the board, m.
double sigma_at(const Rectification& view, const base::Vec2& board_m);

/// Pixels of the photo for a metre on the board at a place, the mean over directions.
double px_per_m(const Rectification& view, const base::Vec2& board_m);

}  // namespace photo
