// The quick evaluation: each facet's spot without noise, from a small quadrature of chief rays
// with their linear maps. Facet contributions are kept apart, so that moving one facet
// recomputes one facet.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "optics/trace_result.h"

namespace optics {

struct Scene;

struct LiveSettings {
  base::Vec2 tracking_error_rad{0.0, 0.0};
  int map_cells = 96;
  double map_width_m = 0.0;  ///< 0: as in TraceSettings
};

/// One facet's light in the receiver's plane.
struct FacetSpot {
  double plane_W = 0.0;
  double receiver_W = 0.0;
  base::Vec2 centroid_m{0.0, 0.0};
  base::Vec2 chief_m{0.0, 0.0};  ///< where the centre ray lands
  bool chief_lands = false;
  std::array<double, 3> covariance_m2{0.0, 0.0, 0.0};  ///< right-right, right-up, up-up
  std::vector<base::Vec3> chief_path;  ///< sun side, facet, [secondary,] end; dish frame
  std::vector<float> cells_W;          ///< map_cells^2, its share of the map
  Ledger ledger;                       ///< its own watts; incident, gaps and cosine left 0
  std::vector<base::Vec3> outside;     ///< (right, up, W): its light beyond the map, as points
};

struct LiveState {
  LiveSettings settings;
  base::Pose dish_from_board;          ///< x right, y up, z lit normal of the receiver's plane
  std::vector<FacetSpot> spots;        ///< in the dish's order
  TraceResult figures;                 ///< rays = 0, standard error 0
  std::shared_ptr<const Scene> scene;  ///< as evaluated: whose light each facet stands in
};

/// Everything from scratch.
base::Result<LiveState> evaluate(const dish::Dish& dish, const LiveSettings& settings);

/// After facet `changed` alone moved (and nothing else): its spot out, its new spot in, and the
/// facets it can shade or block with it.
base::Result<LiveState> reevaluate(LiveState before, const dish::Dish& dish, std::size_t changed);

}  // namespace optics
