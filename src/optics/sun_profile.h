// The sun's brightness over the distance from its middle: to draw rays from, to bound beams by, and
// to convolve with errors.
#pragma once

#include <vector>

#include "dish/optics_parts.h"
#include "optics/circumsolar.h"

namespace optics {

/// Distances are sines of the angle from the sun's middle; light is even in projected solid angle
/// 2 pi s ds where the sun is even. Published formulas in the angle are taken at the sine: at the
/// edge of the widest aureole, 43.6 mrad, that is 0.03 % of the distance.
struct SunProfile {
  static constexpr int k_steps = 1024;

  dish::SunShape shape;
  double disc_sine = 0.0;   ///< of the disc's edge; of a Gaussian, its sigma
  double reach_sine = 0.0;  ///< no light from beyond; a Gaussian ends at five sigma
  double variance = 0.0;    ///< of the sine, per axis
  bool is_pillbox = true;

  /// Of what is not a pillbox: distance over t = sqrt(u), u being the share of light within it,
  /// at k_steps + 1 even steps, linear between them: `disc` over 0..split, `aureole` over split..1
  /// (empty when split is 1). Floats, so that every lane width draws the same.
  double split = 1.0;
  std::vector<float> disc;
  std::vector<float> aureole;

  BuieAureole buie;         ///< of a circumsolar sun
  double flux_mrad2 = 1.0;  ///< of a circumsolar sun, disc and aureole

  /// The distance within which the share `u`, 0 <= u < 1, lies: what an even draw becomes.
  [[nodiscard]] double radius(double u) const;
};

/// The sun must be within its ranges; a half angle of zero is a point.
SunProfile make_sun_profile(const dish::Sun& sun);

/// Light per projected solid angle at a distance, of a sun of power one: its integral over
/// 2 pi s ds is one. Not for a point.
double radiance(const SunProfile& profile, double sine);

/// Share of the light within a distance, 0..1. By closed form where there is one.
double share_within(const SunProfile& profile, double sine);

}  // namespace optics
