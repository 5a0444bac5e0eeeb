// One chunk of one facet's rays through the kernel, and its books.
#pragma once

#include <array>
#include <memory>
#include <optional>

#include "optics/kernel_points.h"
#include "optics/kernel_scene.h"
#include "optics/trace_part.h"

namespace optics {

/// How many lanes this machine follows at once when it may choose: 16, 8 or 4.
int widest_lanes();
/// Whether this machine has registers for so many lanes (1, 4, 8 or 16).
bool has_lanes(int lanes);

/// The kernel for `lanes` lanes.
void run_kernel(int lanes, const KernelBatch<float>& batch, KernelRays<float>& rays);
void run_kernel(int lanes, const KernelBatch<double>& batch, KernelRays<double>& rays);

/// T is float, or double for the reference.
template <class T>
class ChunkTracer {
 public:
  ChunkTracer(const Scene& scene, const TraceSettings& settings, TracePart& part);

  /// Traces chunk number `chunk` of the plan into the part's grid and answers its sums.
  ChunkSums trace(std::uint64_t chunk);

  /// Ray by ray, for comparisons: what a chunk's rays drew and where they ended.
  void trace_with_trail(std::uint64_t chunk, KernelTrail<T>& trail);
  [[nodiscard]] const KernelRays<T>& rays() const { return *rays_; }

  /// Light that the map takes from the grid, once all chunks are traced.
  void finish_map();

 private:
  struct Light {
    double watts = 0.0;        ///< of sunlight in a kernel's unit
    double after_facet = 0.0;  ///< the share left there
    double after_all = 0.0;
    std::int64_t factor = 0;  ///< kernel's units to the map's: factor / 2^shift
    int shift = 0;
  };

  void turn_to_facet(std::size_t index);
  void run(std::uint64_t chunk, KernelTrail<T>* trail);
  void find_offsets(const KernelPoints& points);
  void enter_cells(std::size_t half);
  void answer_asked(ChunkSums& sums);
  [[nodiscard]] ChunkSums sums_of_kernel() const;

  const Scene& scene_;
  const TraceSettings& settings_;
  TracePart& part_;
  TracePlan plan_;
  int lanes_;
  bool is_map_from_grid_;
  double map_width_;
  KernelMaker<T> maker_;
  std::array<std::optional<PointCopy>, k_replicates> copies_;
  std::size_t facet_index_ = static_cast<std::size_t>(-1);
  const KernelFacet<T>* facet_ = nullptr;
  Light light_;
  std::unique_ptr<KernelRays<T>> rays_;
  std::unique_ptr<KernelOffsets<T>> offsets_;
};

extern template class ChunkTracer<float>;
extern template class ChunkTracer<double>;

}  // namespace optics
