// The full trace in pieces: chunks that anybody can trace in any order, as plain sums that add up
// to the same bits however they were shared out. Native threads and web workers both use it.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "base/progress.h"
#include "optics/scene.h"
#include "optics/spot_grid.h"
#include "optics/trace.h"

namespace optics {

/// Independent randomised copies of every facet's points: their spread is the standard error.
inline constexpr std::uint32_t k_replicates = 8;

/// How the rays of a trace are cut. Chunk number = (facet * k_replicates + replicate) * blocks +
/// block; a chunk is `chunk_rays` points in a row of the stream (seed, facet, replicate).
struct TracePlan {
  std::uint32_t first_facet = 0;
  std::uint32_t facets = 0;
  std::uint32_t blocks = 1;
  std::uint32_t chunk_rays = 1024;

  [[nodiscard]] std::uint64_t chunks() const {
    return std::uint64_t{facets} * k_replicates * blocks;
  }
  [[nodiscard]] std::uint64_t rays() const { return chunks() * chunk_rays; }
};

TracePlan plan_trace(const Scene& scene, const TraceSettings& settings);

/// What a chunk adds up, all in watts (moments in W m and W m2).
struct ChunkSums {
  enum Account {
    caught,  ///< sunlight on the facet's outline
    shaded,
    facet_absorbed,
    blocked,
    missed_secondary,
    secondary_absorbed,
    spilled,
    plane,  ///< crossing the receiver's plane on its lit side
    receiver,
    plane_x,
    plane_y,
    plane_xx,
    plane_yy,
    account_count
  };
  std::array<double, account_count> sum{};
};

/// A stretch of chunks traced.
struct TracePart {
  std::uint64_t first_chunk = 0;
  std::vector<ChunkSums> chunks;
  SpotCount spot;                 ///< in whole units of light_unit_W
  std::vector<std::int64_t> map;  ///< map_cells squared
};

/// Traces `count` chunks from `first_chunk`. `progress` is asked between chunks; when cancelled the
/// part holds fewer chunks than asked.
TracePart trace_part(const Scene& scene, const TraceSettings& settings, std::uint64_t first_chunk,
                     std::uint64_t count, const base::Progress& progress = {});

/// Adds parts, in any order, that together hold every chunk once.
TraceResult merge_parts(const Scene& scene, const TraceSettings& settings,
                        const std::vector<TracePart>& parts);

/// All chunks of a scene by `settings.workers` native threads. Cancelled: a problem at "cancelled".
base::Result<TraceResult> trace_scene(const Scene& scene, const TraceSettings& settings,
                                      const base::Progress& progress = {});

}  // namespace optics
