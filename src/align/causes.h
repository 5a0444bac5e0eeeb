// From spots on a board to residuals as seen from the sun, and how strongly each common cause
// would show there, by perturbing the exact forward model.
#pragma once

#include <cstddef>
#include <vector>

#include "adjusters/screws.h"
#include "align/common.h"
#include "align/observe.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

/// Directions on the board, as three columns: p to the dish's +x and q to its +y as nearly as the
/// board allows, right-handed for someone at the sun, and the board's normal on the sun's side.
base::Mat3 sunward_axes(const base::Pose& dish_from_board);

/// A difference of two places on the board, (right, up) to (p, q), and back.
base::Vec2 sunward_from_board(const base::Pose& dish_from_board, const base::Vec2& board_m);
base::Vec2 board_from_sunward(const base::Pose& dish_from_board, const base::Vec2& sunward_m);

/// Facets of a round that have a spot and an expected mark.
struct Measured {
  std::vector<std::size_t> facets;  ///< indices into the dish
  std::vector<adjusters::FacePose> nominal;
  std::vector<base::Vec2> places_m;     ///< (x, y) of the nominal centres
  std::vector<base::Vec2> marks_m;      ///< expected, (right, up)
  std::vector<base::Vec2> residuals_m;  ///< seen less expected, (p, q)
};

/// Central differences of the marks, each fitted with the six modes by least squares.
/// Problems: as in `fit_modes`. A facet whose perturbed ray has no mark counts as unmoved.
base::Result<Responses> responses_of(const dish::Dish& dish, const Measured& measured,
                                     const Sighting& sighting);

}  // namespace align
