// The quick evaluation: each facet's spot without noise, from a small
// quadrature of chief rays with their linear maps. Light is added up in whole
// numbers, so that one facet's can be taken out and put back elsewhere, and
// what one facet's move costs does not grow with their number.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "optics/cone_kernel.h"
#include "optics/facet_light.h"
#include "optics/light_map.h"
#include "optics/live_sums.h"
#include "optics/trace_result.h"

namespace optics {

struct LiveSettings {
  base::Vec2 tracking_error_rad{0.0, 0.0};
  int map_cells = 96;        ///< 8 to 512, a multiple of four
  double map_width_m = 0.0;  ///< 0: as in TraceSettings
};

struct LiveState {
  LiveSettings settings;
  base::Pose dish_from_board;          ///< x right, y up, z lit normal of the receiver's plane
  std::vector<FacetSpot> spots;        ///< in the dish's order
  TraceResult figures;                 ///< rays = 0, standard error 0
  std::shared_ptr<const Scene> scene;  ///< as evaluated: whose light each facet stands in

  // What the next move starts from.
  Canvas canvas;
  LightCounts counts;
  LiveSums sums;
  std::shared_ptr<ConeKernels> kernels;  ///< shared by evaluations under the same sun
  std::size_t late_blockers = 0;         ///< what may stand between the secondary and the receiver
  /// Light of the facets that were lit last: the next step of a drag takes these out again.
  struct Kept {
    std::uint32_t facet = 0;
    CountedTile light;
  };
  std::vector<Kept> kept;
};

/// Everything from scratch. Kernels are taken over from `before` when the sun is the same.
base::Result<LiveState> evaluate(const dish::Dish& dish, const LiveSettings& settings,
                                 const LiveState* before = nullptr);

/// The same for a scene that is already made.
LiveState evaluate_scene(std::shared_ptr<const Scene> scene, const LiveSettings& settings,
                         const LiveState* before = nullptr);

/// After facet `changed` alone took another pose (and nothing else changed):
/// its light out, its new light in, and the same for the facets it can shade or
/// block. Equal to a new evaluation: map and sums to the last bit, the aperture to rounding.
base::Result<LiveState> reevaluate(LiveState before, const dish::Dish& dish, std::size_t changed);

/// One facet's share of the map, W in each of its cells. Lights the facet again: states of many
/// facets do not keep a map of each.
std::vector<double> facet_map_W(const LiveState& state, std::size_t facet);

}  // namespace optics
