// Drawing points for a chunk of one facet's rays, following them and keeping the accounts.
#include "optics/trace_part.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/sobol.h"
#include "optics/figures.h"
#include "optics/path.h"
#include "optics/ray_draw.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

/// What all rays of a facet share.
struct FacetWork {
  const SceneFacet& facet;
  const Edge& edge;
  double watts_per_ray = 0.0;  ///< on an area square to the sun
  int dimensions = 4;
};

/// One chunk's books.
class Books {
 public:
  Books(const Scene& scene, const TraceSettings& settings, TracePart& part)
      : scene_(scene),
        part_(part),
        cells_(settings.map_cells),
        width_(map_width(settings.map_width_m, scene.receiver.longer_side_m)),
        units_per_watt_(1.0 / light_unit_W(scene)) {}

  /// Even and odd copies of the points are the two halves of the light.
  void turn_to(std::uint32_t replicate) { half_ = replicate % 2; }

  void enter(const SceneFacet& facet, const Path& path, double watts, ChunkSums& sums) {
    auto& sum = sums.sum;
    sum[ChunkSums::caught] += watts;
    if (path.end == End::shaded) {
      sum[ChunkSums::shaded] += watts;
      return;
    }
    double left = facet.reflectance * watts;
    sum[ChunkSums::facet_absorbed] += watts - left;
    if (path.met_secondary) {
      const double after = scene_.secondary->reflectance * left;
      sum[ChunkSums::secondary_absorbed] += left - after;
      left = after;
    }
    switch (path.end) {
      case End::blocked:
        sum[ChunkSums::blocked] += left;
        break;
      case End::missed_secondary:
        sum[ChunkSums::missed_secondary] += left;
        break;
      case End::lost:
        sum[ChunkSums::spilled] += left;
        break;
      case End::landed:
        enter_landed(path.board, left, sums);
        break;
      case End::shaded:
        break;
    }
  }

 private:
  void enter_landed(const Vec2& board, double watts, ChunkSums& sums) {
    auto& sum = sums.sum;
    sum[ChunkSums::plane] += watts;
    sum[ChunkSums::plane_x] += watts * board.x;
    sum[ChunkSums::plane_y] += watts * board.y;
    sum[ChunkSums::plane_xx] += watts * board.x * board.x;
    sum[ChunkSums::plane_yy] += watts * board.y * board.y;
    sum[is_on_receiver(scene_.receiver, board) ? ChunkSums::receiver : ChunkSums::spilled] += watts;
    const auto units = static_cast<std::int64_t>(watts * units_per_watt_ + 0.5);
    part_.spot.add(board, units, half_);
    const double column = (board.x / width_ + 0.5) * cells_;
    const double row = (board.y / width_ + 0.5) * cells_;
    if (column >= 0.0 && column < cells_ && row >= 0.0 && row < cells_) {
      part_.map[static_cast<std::size_t>(static_cast<int>(row) * cells_ +
                                         static_cast<int>(column))] += units;
    }
  }

  const Scene& scene_;
  TracePart& part_;
  int cells_;
  double width_;
  double units_per_watt_;
  std::size_t half_ = 0;
};

ChunkSums trace_chunk(const Scene& scene, const FacetWork& work, base::Sobol points,
                      std::uint32_t rays, Books& books) {
  ChunkSums sums;
  const base::Pose& pose = work.facet.dish_from_facet;
  for (std::uint32_t ray = 0; ray < rays; ++ray) {
    double x[k_ray_dimensions];
    points.next(x, work.dimensions);
    const FacetPoint start = facet_point(scene, work.facet, sample(work.edge, x[0], x[1]));
    const Vec3 sun = sun_ray(scene, x[2], x[3]);
    // The element du dv of the tangent plane carries du dv / n_w of glass, which catches n . sun of
    // it; projected solid angle was drawn about the sun's middle, hence the last division.
    const double cosine = glm::dot(base::direction_to_outer(pose, start.normal), sun);
    if (!(cosine > 0.0)) continue;
    const double watts = work.watts_per_ray * cosine / (start.normal.z * glm::dot(sun, scene.sun));
    const Turns turns = draw_turns(scene, work.facet, x);
    const Path path = follow(scene, work.facet, start, sun, turns, Tests{});
    books.enter(work.facet, path, watts, sums);
  }
  return sums;
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
  Books books(scene, settings, part);
  const double rays_per_facet = static_cast<double>(k_replicates) * plan.blocks * plan.chunk_rays;
  for (std::uint64_t chunk = first_chunk; chunk < first_chunk + count; ++chunk) {
    if (progress.cancelled()) break;
    const auto block = static_cast<std::uint32_t>(chunk % plan.blocks);
    const auto replicate = static_cast<std::uint32_t>(chunk / plan.blocks % k_replicates);
    const auto index =
        plan.first_facet + static_cast<std::uint32_t>(chunk / plan.blocks / k_replicates);
    const SceneFacet& facet = scene.facets[index];
    const Edge& edge = scene.edges[facet.edge];
    const FacetWork work{facet, edge, scene.dni_W_m2 * edge.area_m2 / rays_per_facet,
                         scene.secondary ? k_ray_dimensions : k_prime_dimensions};
    const base::Sobol points(settings.seed, index, replicate, block * plan.chunk_rays);
    books.turn_to(replicate);
    part.chunks.push_back(trace_chunk(scene, work, points, plan.chunk_rays, books));
    progress.tell(static_cast<double>(chunk + 1 - first_chunk) / static_cast<double>(count));
  }
  return part;
}

}  // namespace optics
