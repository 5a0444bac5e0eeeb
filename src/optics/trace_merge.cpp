// From the sums of all chunks, in their order, to a trace's figures.
#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/sums.h"
#include "optics/figures.h"
#include "optics/trace_part.h"

namespace optics {
namespace {

using base::Vec2;

using Sums = std::array<base::Sum, ChunkSums::account_count>;

void add(Sums& total, const ChunkSums& chunk) {
  for (std::size_t k = 0; k < total.size(); ++k) total[k].add(chunk.sum[k]);
}

void add(Sums& total, const Sums& more) {
  for (std::size_t k = 0; k < total.size(); ++k) total[k].add(more[k]);
}

/// Chunks of all parts, in the order of the plan.
std::vector<const ChunkSums*> in_order(const TracePlan& plan, const std::vector<TracePart>& parts) {
  std::vector<const ChunkSums*> chunks(plan.chunks(), nullptr);
  for (const TracePart& part : parts) {
    for (std::size_t k = 0; k < part.chunks.size(); ++k) {
      const std::size_t place = part.first_chunk + k;
      BASE_CHECK(place < chunks.size() && chunks[place] == nullptr, "parts hold each chunk once");
      chunks[place] = &part.chunks[k];
    }
  }
  for (const ChunkSums* chunk : chunks) BASE_CHECK(chunk != nullptr, "parts hold every chunk");
  return chunks;
}

FacetFigures figures_of(const SceneFacet& facet, const Sums& sums) {
  FacetFigures figures;
  figures.id = facet.id;
  figures.power_W = sums[ChunkSums::receiver].value();
  const double plane = sums[ChunkSums::plane].value();
  if (plane > 0.0) {
    figures.centroid_m = {sums[ChunkSums::plane_x].value() / plane,
                          sums[ChunkSums::plane_y].value() / plane};
    const double square =
        (sums[ChunkSums::plane_xx].value() + sums[ChunkSums::plane_yy].value()) / plane -
        glm::dot(figures.centroid_m, figures.centroid_m);
    figures.rms_radius_m = std::sqrt(std::max(square, 0.0));
  }
  const double caught = sums[ChunkSums::caught].value();
  const double shaded = sums[ChunkSums::shaded].value();
  const double reflected = (caught - shaded) * facet.reflectance;
  const double kept = reflected > 0.0 ? 1.0 - sums[ChunkSums::blocked].value() / reflected : 0.0;
  figures.lit_fraction = caught > 0.0 ? (1.0 - shaded / caught) * kept : 0.0;
  return figures;
}

FluxMap map_of(const Scene& scene, const TraceSettings& settings,
               const std::vector<std::int64_t>& counts) {
  FluxMap map;
  map.columns = settings.map_cells;
  map.rows = settings.map_cells;
  map.size_m = Vec2(map_width(settings.map_width_m, scene.receiver.longer_side_m));
  const double cell = map.size_m.x / map.columns;
  const double scale = light_unit_W(scene) / (cell * cell);
  map.flux_W_m2.reserve(counts.size());
  for (const std::int64_t count : counts) {
    map.flux_W_m2.push_back(static_cast<double>(count) * scale);
  }
  return map;
}

double standard_error(const std::array<base::Sum, k_replicates>& power) {
  double mean = 0.0;
  for (const base::Sum& one : power) mean += one.value() / k_replicates;
  double square = 0.0;
  for (const base::Sum& one : power) square += (one.value() - mean) * (one.value() - mean);
  // Each copy holds an eighth of the power; the sum of eight has sqrt(8) times one's deviation.
  return std::sqrt(square / (k_replicates - 1.0) * k_replicates);
}

}  // namespace

void finish_figures(const Scene& scene, const PlaneLight& light, double caught_W,
                    TraceResult& result) {
  result.dni_W_m2 = scene.dni_W_m2;
  result.gross_aperture_m2 = scene.gross_aperture_m2;
  result.mirror_area_m2 = scene.mirror_area_m2;
  Ledger& ledger = result.ledger;
  ledger.incident_W = scene.dni_W_m2 * scene.gross_aperture_m2;
  ledger.cosine_W = ledger.incident_W * (1.0 - scene.sun.z);
  ledger.gaps_W = ledger.incident_W - ledger.cosine_W - caught_W;
  ledger.receiver_absorbed_W = scene.receiver.absorptance * result.power_receiver_W;
  ledger.receiver_reflection_W = result.power_receiver_W - ledger.receiver_absorbed_W;
  result.power_reflected_W = caught_W - ledger.shading_W - ledger.facet_absorption_W;
  const auto ratio = [](double part, double whole) { return whole > 0.0 ? part / whole : 0.0; };
  result.intercept_factor = ratio(result.power_receiver_W, result.power_plane_W);
  result.optical_efficiency = ratio(result.power_receiver_W, ledger.incident_W);
  result.peak_W_m2 = peak_flux(light, scene.receiver.longer_side_m);
  result.peak_concentration = ratio(result.peak_W_m2, scene.dni_W_m2);
  result.mean_concentration =
      ratio(result.power_receiver_W, scene.receiver.area_m2 * scene.dni_W_m2);
  if (result.power_plane_W > 0.0) {
    result.radius_m =
        encircled_radii(light, result.centroid_m, result.power_plane_W, {0.5, 0.9, 0.95});
  }
}

TraceResult merge_parts(const Scene& scene, const TraceSettings& settings,
                        const std::vector<TracePart>& parts) {
  BASE_CHECK(!parts.empty(), "a trace has parts");
  const TracePlan plan = plan_trace(scene, settings);
  const auto chunks = in_order(plan, parts);
  TraceResult result;
  result.rays = plan.rays();
  result.seed = settings.seed;
  // Facet by facet and copy by copy, in the order of the chunks.
  Sums total;
  std::array<base::Sum, k_replicates> power{};
  std::size_t next = 0;
  for (std::uint32_t facet = 0; facet < plan.facets; ++facet) {
    Sums own;
    for (std::uint32_t replicate = 0; replicate < k_replicates; ++replicate) {
      for (std::uint32_t block = 0; block < plan.blocks; ++block, ++next) {
        add(own, *chunks[next]);
        power[replicate].add(chunks[next]->sum[ChunkSums::receiver]);
      }
    }
    result.facets.push_back(figures_of(scene.facets[plan.first_facet + facet], own));
    add(total, own);
  }
  // Whole numbers add up the same in any order.
  SpotCount spot = parts[0].spot;
  std::vector<std::int64_t> map = parts[0].map;
  for (std::size_t part = 1; part < parts.size(); ++part) {
    spot.add(parts[part].spot);
    for (std::size_t k = 0; k < map.size(); ++k) map[k] += parts[part].map[k];
  }

  Ledger& ledger = result.ledger;
  ledger.shading_W = total[ChunkSums::shaded].value();
  ledger.facet_absorption_W = total[ChunkSums::facet_absorbed].value();
  ledger.blocking_W = total[ChunkSums::blocked].value();
  ledger.secondary_missed_W = total[ChunkSums::missed_secondary].value();
  ledger.secondary_absorption_W = total[ChunkSums::secondary_absorbed].value();
  ledger.spillage_W = total[ChunkSums::spilled].value();
  result.power_plane_W = total[ChunkSums::plane].value();
  result.power_receiver_W = total[ChunkSums::receiver].value();
  result.standard_error_W = standard_error(power);
  for (const base::Sum& one : power) result.copies_W.push_back(k_replicates * one.value());
  if (result.power_plane_W > 0.0) {
    const double plane = result.power_plane_W;
    result.centroid_m = {total[ChunkSums::plane_x].value() / plane,
                         total[ChunkSums::plane_y].value() / plane};
    const double xx = total[ChunkSums::plane_xx].value() / plane;
    const double yy = total[ChunkSums::plane_yy].value() / plane;
    result.rms_m = {std::sqrt(std::max(xx - result.centroid_m.x * result.centroid_m.x, 0.0)),
                    std::sqrt(std::max(yy - result.centroid_m.y * result.centroid_m.y, 0.0))};
  }
  result.map = map_of(scene, settings, map);
  finish_figures(scene, spot.in_watts(light_unit_W(scene)), total[ChunkSums::caught].value(),
                 result);
  return result;
}

}  // namespace optics
