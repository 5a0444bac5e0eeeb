// Low-discrepancy points for the kernel: one random matrix for each copy of the points, one random
// shift for each facet's.
#pragma once

#include <array>
#include <cstdint>

#include "optics/kernel.h"

namespace optics {

/// Sobol's sequence (base/sobol.h has the direction numbers and their source), scrambled by random
/// lower triangular matrices and shifted digit by digit, which keeps every net and needs one
/// exclusive or for each step. Copies are independent of each other; given the matrices, so are the
/// shifts of the facets, and each point by itself is even, so means are without bias.
/// Source: Matousek, J. Complexity 14 (1998) 527.
class PointCopy {
 public:
  /// For `lanes` points at a time, of up to 2^bits points in all.
  PointCopy(std::uint64_t seed, std::uint32_t replicate, int bits, int lanes);

  /// Points `first` and on; `first` is a multiple of 16.
  [[nodiscard]] KernelPoints block(std::uint32_t facet, std::uint32_t first) const;

 private:
  using Row = std::array<std::uint32_t, k_kernel_dimensions>;
  std::uint64_t seed_;
  std::uint32_t replicate_;
  std::array<Row, 32> direction_{};  ///< by bit of the index; 23 bits
  using Steps = std::uint32_t[12][k_kernel_dimensions];
  void fill(Steps& steps, int lanes) const;
  Steps step_{};
  Steps step_alone_{};
};

}  // namespace optics
