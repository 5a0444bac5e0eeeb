// Where an edge that crosses the dish is at a time: a cubic, because hands do not move evenly.
#pragma once

#include <Eigen/Dense>

#include <vector>

namespace naming {

/// A time at which the edge was at a place, or may have been (weight 0..1).
struct TimedPlace {
  double time = 0.0;
  double place_m = 0.0;
  double weight = 1.0;
};

/// How a crossing is measured: its times, the way it covers, and how well a time tells a place.
struct EdgeScale {
  double middle = 0.0;      ///< of the times
  double half = 1.0;        ///< half their range, > 0
  double half_way_m = 1.0;  ///< half the way from the first facet to the last
  double sigma_m = 0.025;   ///< of one time, as a place
};

struct EdgeMotion {
  EdgeScale scale;
  Eigen::Vector4d terms = Eigen::Vector4d::Zero();   ///< m, of powers of time in -1..1
  Eigen::Matrix4d spread = Eigen::Matrix4d::Zero();  ///< inverse of the normal equations

  [[nodiscard]] Eigen::Vector4d powers(double time) const;
  [[nodiscard]] double at(double time) const { return powers(time).dot(terms); }
  /// Share of a pair of weight 1 in its own fit; of another pair: its variance from the fit, in
  /// units of the variance of one time.
  [[nodiscard]] double leverage(double time) const;
};

/// Weighted least squares, drawn to an even motion by what hands do: bend and change of bend are
/// within `k_usual_bend` and `k_usual_twist` of half the way (standard deviations; common practice,
/// no source).
EdgeMotion fit_motion(const EdgeScale& scale, const std::vector<TimedPlace>& pairs);
inline constexpr double k_usual_bend = 0.25;
inline constexpr double k_usual_twist = 0.1;

}  // namespace naming
