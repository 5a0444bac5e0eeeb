// How the light of one chief ray is spread: the sun blurred by Gaussian errors,
// as a round profile of unit power and unit variance per axis.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "base/vec.h"
#include "optics/sun_profile.h"

namespace optics {

/// A round profile over the distance from its middle, in standard deviations
/// per axis, tabulated at even steps.
struct ConeTable {
  static constexpr int k_steps = 512;
  static constexpr int k_points = 64;
  using Density = std::array<float, k_steps + 8>;  ///< zeros at the end

  Density density{};                      ///< per unit area
  std::vector<double> beside;             ///< share of the light beyond a line so far out
  std::array<double, k_points> radius{};  ///< of equal shares of power
  double reach = 0.0;                     ///< nothing beyond
};

/// Two tables blended.
struct ConeBlend {
  float steps_per_unit = 1.0f;
  double reach = 0.0;
  const ConeTable* low = nullptr;
  const ConeTable* high = nullptr;
  double part = 0.0;  ///< of the second

  /// Share of the light beyond a line that passes the middle at a distance, of either sign.
  [[nodiscard]] double share_beyond(double distance) const;
  /// Radius of the k-th of k_points points of equal power.
  [[nodiscard]] double radius(std::size_t k) const {
    return low->radius[k] + part * (high->radius[k] - low->radius[k]);
  }
};

/// With the density spelt out, for many looks at it.
struct ConeProfile : ConeBlend {
  ConeTable::Density density{};
};

/// Points of equal power, even over angle: each radius of a profile goes with one direction.
const std::array<base::Vec2, ConeTable::k_points>& point_directions();

/// Profiles for every share of Gaussian blur. With s the Gaussian's share of
/// the standard deviation (0..1), the sun's variance is scaled to 1 - s^2 and
/// the Gaussian's sigma is s, so variances add to 1. Tabulated at even steps of
/// s when first asked for and blended linearly between them; each table is
/// scaled to unit power and variance, so blends have both too. Not for two threads at once.
class ConeKernels {
 public:
  static constexpr int k_levels = 32;

  explicit ConeKernels(const SunProfile& sun);

  /// Whether these are the kernels of that sun.
  [[nodiscard]] bool are_of(const SunProfile& sun) const;

  /// `gaussian_share` below 1/32 counts as 1/32. What is answered leans on the kernels.
  [[nodiscard]] ConeBlend blend(double gaussian_share);
  [[nodiscard]] ConeProfile profile(double gaussian_share);

 private:
  /// A thin ring of the sun: its distance from the middle in the sun's own
  /// standard deviations, and its share of the light.
  struct Ring {
    double radius = 0.0;
    double share = 0.0;
  };
  const ConeTable& level(int index);
  [[nodiscard]] ConeTable made_level(double gaussian) const;
  [[nodiscard]] double blurred(double r, double gaussian) const;

  SunProfile sun_;
  std::vector<Ring> rings_;
  double sun_reach_ = 0.0;  ///< in its own standard deviations
  double range_ = 0.0;      ///< that all tables cover
  std::array<std::optional<ConeTable>, k_levels + 1> levels_;
};

}  // namespace optics
