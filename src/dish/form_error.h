// How a facet's surface differs from the one it was meant to have: as heights along its normal,
// positive toward the sun, over (u, v) in its own frame.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "base/vec.h"

namespace dish {

/// The edge leans back: the slope grows evenly from nothing, `width_m` inside the edge, to
/// `slope_rad` at the edge. Negative when it leans forward.
struct EdgeRollOff {
  double width_m = 0.01;
  double slope_rad = 0.002;
};

/// Heights on a regular grid, row after row: columns along u, rows along v, both rising.
struct SagMap {
  base::Vec2 first_m{0.0, 0.0};  ///< place of the first height
  base::Vec2 step_m{0.01, 0.01};
  int columns = 0;
  int rows = 0;
  std::vector<double> sag_m;
};

inline constexpr int k_most_map_side = 500;

/// Maps are large, never change and are shared by the steps of the history.
using SharedSagMap = std::shared_ptr<const SagMap>;

/// Low-order terms are heights at the facet's bounding radius R, with rho = r / R and the angle phi
/// from u:  defocus rho^2, astigmatism rho^2 cos 2 phi and rho^2 sin 2 phi, trefoil rho^3 cos 3 phi
/// and rho^3 sin 3 phi. None of them moves the facet's centre or turns its normal there.
struct FormError {
  double defocus_m = 0.0;
  double astigmatism_0_m = 0.0;
  double astigmatism_45_m = 0.0;
  double trefoil_0_m = 0.0;
  double trefoil_30_m = 0.0;
  std::optional<EdgeRollOff> roll_off;
  SharedSagMap sag_map;  ///< nullptr: none
};

/// Whether the surface is as it was meant.
bool is_perfect(const FormError& error);

}  // namespace dish
