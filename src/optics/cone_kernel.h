// How the light of one chief ray is spread: the sun's even disc blurred by Gaussian errors, as a
// round profile of unit power and unit variance per axis.
#pragma once

#include <array>
#include <vector>

#include "base/vec.h"

namespace optics {

/// Profiles for every share of Gaussian blur. With s the Gaussian's share of the standard deviation
/// (0..1), the disc has radius 2 sqrt(1 - s^2) and the Gaussian sigma s, so variances add to 1.
/// Density at r: (1 / pi A^2) P(|X| < A), X normal about r: a pillbox convolved with a Gaussian.
/// Tabulated over q = r^2, in which it is smooth at the middle, at sixteen values of s and blended
/// linearly between them; each table is scaled to unit power and variance, so blends have both too.
class ConeKernels {
 public:
  static constexpr int k_levels = 16;
  static constexpr int k_steps = 1024;
  static constexpr double k_most_q = 24.0;
  static constexpr int k_points = 64;

  /// Made once, never changed.
  static const ConeKernels& get();

  /// One blended profile.
  struct Profile {
    std::array<float, k_steps + 2> density{};
    double reach = 0.0;                         ///< nothing beyond this radius
    std::array<base::Vec2, k_points> points{};  ///< of equal power, even over angle
  };

  /// `gaussian_share` below 1/16 counts as 1/16.
  [[nodiscard]] Profile profile(double gaussian_share) const;

 private:
  ConeKernels();

  struct Level {
    std::array<double, k_steps + 1> density{};
    std::array<double, k_points> radius{};  ///< of equal shares of power
    double reach = 0.0;
  };
  std::array<Level, k_levels> levels_;
};

}  // namespace optics
