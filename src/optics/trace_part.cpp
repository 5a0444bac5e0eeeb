// Cutting a trace into chunks and tracing a stretch of them.
#include "optics/trace_part.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "optics/chunk_tracer.h"
#include "optics/figures.h"

namespace optics {
namespace {

template <class T>
void trace_chunks(const Scene& scene, const TraceSettings& settings, std::uint64_t count,
                  const base::Progress& progress, TracePart& part) {
  ChunkTracer<T> tracer(scene, settings, part);
  for (std::uint64_t k = 0; k < count && !progress.cancelled(); ++k) {
    part.chunks.push_back(tracer.trace(part.first_chunk + k));
    progress.tell(static_cast<double>(k + 1) / static_cast<double>(count));
  }
  tracer.finish_map();
}

}  // namespace

double light_unit_W(const Scene& scene) {
  double area = 0.0;
  for (const SceneFacet& facet : scene.facets) area += scene.edges[facet.edge].area_m2;
  // All light together stays below 2^60 units, and a ray of 1e9 still has nine digits.
  return std::max(area * scene.dni_W_m2, 1e-30) * 0x1p-56;
}

TracePlan plan_trace(const Scene& scene, const TraceSettings& settings) {
  TracePlan plan;
  plan.facets = static_cast<std::uint32_t>(scene.facets.size());
  if (settings.only_facet != static_cast<std::size_t>(-1)) {
    BASE_CHECK(settings.only_facet < scene.facets.size(),
               "only a facet of the dish is traced alone");
    plan.first_facet = static_cast<std::uint32_t>(settings.only_facet);
    plan.facets = 1;
  }
  const std::uint64_t streams = std::uint64_t{plan.facets} * k_replicates;
  const std::uint64_t wanted = std::max<std::uint64_t>(1, (settings.rays + streams - 1) / streams);
  plan.chunk_rays = 16;
  while (plan.chunk_rays < 1024 && plan.chunk_rays < wanted) plan.chunk_rays *= 2;
  plan.blocks = static_cast<std::uint32_t>(
      std::min<std::uint64_t>((wanted + plan.chunk_rays - 1) / plan.chunk_rays, 1u << 21));
  return plan;
}

TracePart trace_part(const Scene& scene, const TraceSettings& settings, std::uint64_t first_chunk,
                     std::uint64_t count, const base::Progress& progress) {
  BASE_CHECK(settings.map_cells >= 1 && settings.map_cells <= 4096,
             "a map has 1 to 4096 cells a side");
  const TracePlan plan = plan_trace(scene, settings);
  BASE_CHECK(first_chunk + count <= plan.chunks(), "chunks lie within the plan");
  TracePart part;
  part.first_chunk = first_chunk;
  part.spot = SpotCount(map_width(settings.map_width_m, scene.receiver.longer_side_m));
  part.map.assign(
      static_cast<std::size_t>(settings.map_cells) * static_cast<std::size_t>(settings.map_cells),
      0);
  part.chunks.reserve(count);
  if (settings.in_double) {
    trace_chunks<double>(scene, settings, count, progress, part);
  } else {
    trace_chunks<float>(scene, settings, count, progress, part);
  }
  return part;
}

}  // namespace optics
