// Tabulating the blurred disc.
#include "optics/cone_kernel.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace optics {
namespace {

constexpr double k_tail = 4.2;  ///< Gaussian sigmas kept beyond the disc's edge; 1.5e-4 lies beyond

/// P(|X| < A) for X normal about (r, 0), times 1 / (pi A^2): Simpson's rule over x of the density
/// of x times the probability that |y| stays within the disc.
double blurred_disc(double r, double disc, double sigma) {
  if (disc < 1e-6)
    return std::exp(-0.5 * r * r / (sigma * sigma)) / (2 * base::k_pi * sigma * sigma);
  const double low = std::max(-disc, r - 7.0 * sigma);
  const double high = std::min(disc, r + 7.0 * sigma);
  if (!(low < high)) return 0.0;
  // x = middle + half sin(t) takes the square root out of the ends of the disc.
  const double middle = 0.5 * (low + high);
  const double half = 0.5 * (high - low);
  const int steps = 40;
  double sum = 0.0;
  for (int k = 0; k <= steps; ++k) {
    const double t = base::k_pi * (static_cast<double>(k) / steps - 0.5);
    const double x = middle + half * std::sin(t);
    const double y = std::sqrt(std::max(disc * disc - x * x, 0.0));
    const double d = (x - r) / sigma;
    const double value =
        std::exp(-0.5 * d * d) * std::erf(y / (sigma * std::sqrt(2.0))) * half * std::cos(t);
    sum += value * (k == 0 || k == steps ? 1.0 : (k % 2 == 1 ? 4.0 : 2.0));
  }
  sum *= base::k_pi / steps / 3.0 / (sigma * std::sqrt(2.0 * base::k_pi));
  return sum / (base::k_pi * disc * disc);
}

}  // namespace

const ConeKernels& ConeKernels::get() {
  static const ConeKernels kernels;
  return kernels;
}

ConeKernels::ConeKernels() {
  const double dq = k_most_q / k_steps;
  for (std::size_t level = 0; level < k_levels; ++level) {
    Level& made = levels_[level];
    const double sigma = static_cast<double>(level + 1) / k_levels;
    const double disc = 2.0 * std::sqrt(1.0 - sigma * sigma);
    made.reach = std::min(disc + k_tail * sigma, std::sqrt(k_most_q));
    // Two passes: the first measures power and variance of the cut-off table, the second mends
    // them.
    double stretch = 1.0;
    for (int pass = 0; pass < 2; ++pass) {
      for (std::size_t k = 0; k <= k_steps; ++k) {
        const double r = std::sqrt(static_cast<double>(k) * dq);
        made.density[k] = r <= made.reach ? blurred_disc(r * stretch, disc, sigma) : 0.0;
      }
      double power = 0.0;
      double square = 0.0;
      for (std::size_t k = 0; k < k_steps; ++k) {
        const double a = made.density[k];
        const double b = made.density[k + 1];
        power += 0.5 * (a + b) * base::k_pi * dq;
        // The mean of q over a step in which density is linear in q.
        square +=
            (0.5 * (a + b) * static_cast<double>(k) + (a + 2.0 * b) / 6.0) * base::k_pi * dq * dq;
      }
      for (double& one : made.density) one /= power;
      stretch *= std::sqrt(0.5 * square / power);
    }
    double before = 0.0;
    std::size_t k = 0;
    for (std::size_t point = 0; point < k_points; ++point) {
      const double wanted = (static_cast<double>(point) + 0.5) / k_points;
      const auto step = [&] {
        return 0.5 * (made.density[k] + made.density[k + 1]) * base::k_pi * dq;
      };
      while (k + 1 < k_steps && before + step() < wanted) before += step(), ++k;
      const double part = step() > 0.0 ? std::min((wanted - before) / step(), 1.0) : 0.0;
      made.radius[point] = std::sqrt((static_cast<double>(k) + part) * dq);
    }
  }
}

ConeKernels::Profile ConeKernels::profile(double gaussian_share) const {
  const double place = std::clamp(gaussian_share * k_levels - 1.0, 0.0, k_levels - 1.0);
  const auto first = std::min(static_cast<std::size_t>(place), std::size_t{k_levels - 2});
  const double b = place - static_cast<double>(first);
  const double a = 1.0 - b;
  const Level& low = levels_[first];
  const Level& high = levels_[first + 1];
  Profile made;
  for (std::size_t k = 0; k <= k_steps; ++k) {
    made.density[k] = static_cast<float>(a * low.density[k] + b * high.density[k]);
  }
  made.reach = std::max(a > 0.0 ? low.reach : 0.0, b > 0.0 ? high.reach : 0.0);
  const double golden = base::k_pi * (3.0 - std::sqrt(5.0));
  for (std::size_t k = 0; k < k_points; ++k) {
    const double radius = a * low.radius[k] + b * high.radius[k];
    const double angle = golden * static_cast<double>(k);
    made.points[k] = {radius * std::cos(angle), radius * std::sin(angle)};
  }
  return made;
}

}  // namespace optics
