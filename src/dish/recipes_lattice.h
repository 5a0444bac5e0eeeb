// Layout: facets in straight rows and columns, on a flat or a curved frame.
#pragma once

#include <optional>
#include <vector>

#include "base/result.h"
#include "dish/facet.h"
#include "dish/recipes_frame.h"

namespace dish {

struct LatticeLayout {
  int columns = 5;
  int rows = 5;
  double column_pitch_m = 0.25;         ///< between neighbours in a row, along x
  double row_pitch_m = 0.25;            ///< between neighbours in a column, along y
  double free_within_m = 0.0;           ///< facets whose centre is nearer to the axis are left out
  std::optional<double> free_beyond_m;  ///< facets whose centre is further away are left out
  LayoutFrame frame = FlatFrame{};
  FacetTypeName type;
  MountName mount;
};

/// Facets of the layout, centred on the axis, row by row from the top, each row from the left as
/// seen from the sun. Ids tell row and column (R1C1 is top left) and do not change when others are
/// left out. Clocking is zero.
/// Problems: options out of range, nothing left, more than k_most_facets, a frame that does not
/// reach that far.
base::Result<std::vector<Facet>> lay_lattice(const LatticeLayout& layout, double focal_length_m);

}  // namespace dish
