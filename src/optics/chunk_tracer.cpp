// From the kernel's whole units to watts and the map, and the few rays it leaves to be asked for.
#include "optics/chunk_tracer.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "optics/figures.h"
#include "optics/path.h"
#include "optics/ray_draw.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

void spread(const KernelBatch<float>& batch, float* u, float* v) {
  spread_kernel_float(batch, u, v);
}
void spread(const KernelBatch<double>& batch, double* u, double* v) {
  spread_kernel_double(batch, u, v);
}

/// Index bits that a facet's points of one copy need.
int bits_for(std::uint64_t points) {
  int bits = 0;
  while (bits < 32 && (std::uint64_t{1} << bits) < points) ++bits;
  return bits;
}

}  // namespace

template <class T>
ChunkTracer<T>::ChunkTracer(const Scene& scene, const TraceSettings& settings, TracePart& part)
    : scene_(scene),
      settings_(settings),
      part_(part),
      plan_(plan_trace(scene, settings)),
      lanes_(settings.lanes == 0 ? widest_lanes() : settings.lanes),
      is_map_from_grid_(SpotCount::k_fine % settings.map_cells == 0),
      map_width_(map_width(settings.map_width_m, scene.receiver.longer_side_m)),
      maker_(scene, map_width_),
      rays_(std::make_unique<KernelRays<T>>()),
      offsets_(std::make_unique<KernelOffsets<T>>()) {
  static_assert(k_kernel_grid == SpotCount::k_fine, "the kernel finds cells of the fine grid");
  if constexpr (std::is_same_v<T, double>) lanes_ = 1;
  BASE_CHECK(has_lanes(lanes_), "this machine has registers for so many lanes");
}

template <class T>
void ChunkTracer<T>::turn_to_facet(std::size_t index) {
  if (index == facet_index_) return;
  facet_index_ = index;
  facet_ = &maker_.facet(index);
  const SceneFacet& facet = scene_.facets[index];
  const double rays = static_cast<double>(k_replicates) * plan_.blocks * plan_.chunk_rays;
  light_.watts = scene_.dni_W_m2 * scene_.edges[facet.edge].area_m2 / rays / facet_->units;
  light_.after_facet = facet.reflectance;
  light_.after_all = facet.reflectance * (scene_.secondary ? scene_.secondary->reflectance : 1.0);
  // A factor of 39 bits times units of 23 stays below 2^62.
  const double ratio = light_.watts * light_.after_all / light_unit_W(scene_);
  int exponent = 0;
  std::frexp(ratio, &exponent);
  light_.shift = std::clamp(39 - exponent, 0, 62);
  light_.factor = static_cast<std::int64_t>(std::ldexp(ratio, light_.shift) + 0.5);
}

/// Form errors are worked out in double beforehand, where the points will be.
template <class T>
void ChunkTracer<T>::find_offsets(const KernelPoints& points) {
  const SceneFacet& facet = scene_.facets[facet_index_];
  KernelOffsets<T>& offsets = *offsets_;
  const KernelBatch<T> batch{&maker_.scene(), facet_,  &points,
                             nullptr,         nullptr, static_cast<int>(plan_.chunk_rays)};
  spread(batch, offsets.slope_u, offsets.slope_v);
  for (std::uint32_t k = 0; k < plan_.chunk_rays; ++k) {
    const FormOffset offset = form_offset(scene_.forms[facet.form], scene_.edges[facet.edge],
                                          offsets.slope_u[k], offsets.slope_v[k]);
    offsets.height[k] = static_cast<T>(offset.height_m);
    offsets.slope_u[k] = static_cast<T>(offset.slope_u);
    offsets.slope_v[k] = static_cast<T>(offset.slope_v);
  }
}

template <class T>
void ChunkTracer<T>::run(std::uint64_t chunk, KernelTrail<T>* trail) {
  const auto block = static_cast<std::uint32_t>(chunk % plan_.blocks);
  const auto replicate = static_cast<std::uint32_t>(chunk / plan_.blocks % k_replicates);
  turn_to_facet(plan_.first_facet + static_cast<std::size_t>(chunk / plan_.blocks / k_replicates));
  auto& copy = copies_[replicate];
  if (!copy) {
    copy.emplace(settings_.seed, replicate,
                 bits_for(std::uint64_t{plan_.blocks} * plan_.chunk_rays), lanes_);
  }
  const KernelPoints points =
      copy->block(static_cast<std::uint32_t>(facet_index_), block * plan_.chunk_rays);
  const bool has_form = scene_.facets[facet_index_].form != k_no_form;
  if (has_form) find_offsets(points);
  const KernelBatch<T> batch{&maker_.scene(), facet_,
                             &points,         has_form ? offsets_.get() : nullptr,
                             trail,           static_cast<int>(plan_.chunk_rays)};
  run_kernel(lanes_, batch, *rays_);
}

template <class T>
void ChunkTracer<T>::trace_with_trail(std::uint64_t chunk, KernelTrail<T>& trail) {
  run(chunk, &trail);
}

template <class T>
ChunkSums ChunkTracer<T>::trace(std::uint64_t chunk) {
  run(chunk, nullptr);
  ChunkSums sums = sums_of_kernel();
  if (scene_.secondary && !maker_.scene().is_always_safe) answer_asked(sums);
  // Even and odd copies of the points are the two halves of the light.
  enter_cells(chunk / plan_.blocks % k_replicates % 2);
  return sums;
}

template <class T>
ChunkSums ChunkTracer<T>::sums_of_kernel() const {
  const KernelRays<T>& rays = *rays_;
  const auto watts = [&](std::int64_t units) { return light_.watts * static_cast<double>(units); };
  const std::int64_t to_facet = rays.units_blocked + rays.units_blocked_after + rays.units_missed +
                                rays.units_lost + rays.units_plane;
  ChunkSums sums;
  auto& sum = sums.sum;
  const double facet = light_.after_facet;
  const double all = light_.after_all;
  sum[ChunkSums::caught] = watts(to_facet + rays.units_shaded);
  sum[ChunkSums::shaded] = watts(rays.units_shaded);
  sum[ChunkSums::facet_absorbed] = watts(to_facet) * (1.0 - facet);
  sum[ChunkSums::blocked] =
      watts(rays.units_blocked) * facet + watts(rays.units_blocked_after) * all;
  sum[ChunkSums::missed_secondary] = watts(rays.units_missed) * facet;
  sum[ChunkSums::secondary_absorbed] =
      watts(rays.units_blocked_after + rays.units_lost + rays.units_plane) * (facet - all);
  sum[ChunkSums::spilled] = watts(rays.units_lost + rays.units_plane - rays.units_receiver) * all;
  sum[ChunkSums::plane] = watts(rays.units_plane) * all;
  sum[ChunkSums::receiver] = watts(rays.units_receiver) * all;
  // Moments about the chief become moments about the receiver's centre.
  std::array<double, 4> moment{};
  for (std::size_t k = 0; k < 4; ++k) {
    for (const T one : rays.moment[k]) moment[k] += static_cast<double>(one);
    moment[k] *= light_.watts * all;
  }
  const double x = facet_->chief[0];
  const double y = facet_->chief[1];
  const double plane = sum[ChunkSums::plane];
  sum[ChunkSums::plane_x] = moment[0] + x * plane;
  sum[ChunkSums::plane_y] = moment[1] + y * plane;
  sum[ChunkSums::plane_xx] = moment[2] + 2.0 * x * moment[0] + x * x * plane;
  sum[ChunkSums::plane_yy] = moment[3] + 2.0 * y * moment[1] + y * y * plane;
  return sums;
}

/// Rays after the secondary that may meet a facet, one by one: they are blocked, or they land.
template <class T>
void ChunkTracer<T>::answer_asked(ChunkSums& sums) {
  KernelRays<T>& rays = *rays_;
  const base::Pose& mirror = scene_.secondary->dish_from_secondary;
  auto& sum = sums.sum;
  for (std::uint32_t k = 0; k < plan_.chunk_rays; ++k) {
    if (rays.cell[k] != KernelRays<T>::asked) continue;
    rays.cell[k] = KernelRays<T>::outside;  // its cell is found when its light is entered
    const double units = static_cast<double>(rays.units[k]) * light_.watts;
    const auto part = [&](const auto& of) { return Vec3(of[0][k], of[1][k], of[2][k]); };
    const double left = units * light_.after_all;
    sum[ChunkSums::caught] += units;
    sum[ChunkSums::facet_absorbed] += units * (1.0 - light_.after_facet);
    sum[ChunkSums::secondary_absorbed] += units * (light_.after_facet - light_.after_all);
    if (is_facet_before_receiver(scene_, base::point_to_outer(mirror, part(rays.asked_point)),
                                 base::direction_to_outer(mirror, part(rays.asked_way)))) {
      sum[ChunkSums::blocked] += left;
      rays.units[k] = 0;
      continue;
    }
    const Vec2 board(rays.x[k], rays.y[k]);
    sum[ChunkSums::plane] += left;
    sum[ChunkSums::plane_x] += left * board.x;
    sum[ChunkSums::plane_y] += left * board.y;
    sum[ChunkSums::plane_xx] += left * board.x * board.x;
    sum[ChunkSums::plane_yy] += left * board.y * board.y;
    sum[is_on_receiver(scene_.receiver, board) ? ChunkSums::receiver : ChunkSums::spilled] += left;
  }
}

/// One addition for each ray; the map comes from the grid where its cells are whole ones of it.
template <class T>
void ChunkTracer<T>::enter_cells(std::size_t half) {
  const KernelRays<T>& rays = *rays_;
  std::int64_t* const grid = part_.spot.fine_counts(half);
  const std::int64_t factor = light_.factor;
  const int shift = light_.shift;
  for (std::uint32_t k = 0; k < plan_.chunk_rays; ++k) {
    const std::int64_t light = (static_cast<std::int64_t>(rays.units[k]) * factor) >> shift;
    if (rays.cell[k] >= 0) {
      grid[rays.cell[k]] += light;
    } else if (light != 0) {
      part_.spot.add({rays.x[k], rays.y[k]}, light, half);
    }
  }
  if (is_map_from_grid_) return;
  const int cells = settings_.map_cells;
  for (std::uint32_t k = 0; k < plan_.chunk_rays; ++k) {
    if (rays.units[k] == 0) continue;
    const double column = (rays.x[k] / map_width_ + 0.5) * cells;
    const double row = (rays.y[k] / map_width_ + 0.5) * cells;
    if (!(column >= 0.0 && column < cells && row >= 0.0 && row < cells)) continue;
    part_.map[static_cast<std::size_t>(static_cast<int>(row) * cells + static_cast<int>(column))] +=
        (static_cast<std::int64_t>(rays.units[k]) * factor) >> shift;
  }
}

template <class T>
void ChunkTracer<T>::finish_map() {
  if (!is_map_from_grid_) return;
  const int cells = settings_.map_cells;
  const int each = SpotCount::k_fine / cells;
  for (std::size_t half = 0; half < 2; ++half) {
    const std::int64_t* grid = part_.spot.fine_counts(half);
    for (int row = 0; row < SpotCount::k_fine; ++row) {
      std::int64_t* const to = part_.map.data() + static_cast<std::ptrdiff_t>(row / each * cells);
      for (int column = 0; column < SpotCount::k_fine; ++column) to[column / each] += *grid++;
    }
  }
}

template class ChunkTracer<float>;
template class ChunkTracer<double>;

}  // namespace optics
