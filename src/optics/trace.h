// The full ray trace. Work is cut into chunks whose points depend only on (seed, facet, replicate)
// and whose sums are merged in a fixed order, so the number of workers never changes a bit.
#pragma once

#include <cstdint>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "optics/trace_result.h"

namespace optics {

struct TraceSettings {
  std::uint64_t rays = 1'000'000;  ///< wanted; rounded up to whole chunks
  std::uint64_t seed = 1;
  base::Vec2 tracking_error_rad{0.0, 0.0};  ///< tilts the sun from +z
  int map_cells = 128;                      ///< along the longer side, 8..1024
  double map_width_m = 0.0;                 ///< 0: 1.6 times the receiver's longer side
  int workers = 1;                          ///< native threads; results do not depend on it
  std::size_t only_facet = static_cast<std::size_t>(-1);  ///< trace one facet alone
  int lanes = 0;           ///< rays followed at once: 1, 4, 8, 16; 0: what suits the machine.
                           ///< Results do not depend on it.
  bool in_double = false;  ///< the same rays one after another in double: the reference
};

/// Traces the dish as built. Problems: see optics/scene.h. A cancelled trace answers a problem
/// whose place is "cancelled".
base::Result<TraceResult> trace(const dish::Dish& dish, const TraceSettings& settings,
                                const base::Progress& progress = {});

}  // namespace optics
