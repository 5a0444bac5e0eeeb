// The published formulas, and their calibration.
#include "optics/circumsolar.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/elementary.h"
#include "base/units.h"

namespace optics {
namespace {

double power(double base_value, double exponent) {
  return base::exp_of(exponent * base::log_positive(base_value));
}

double cosine(double radians) { return base::sincos_turns(radians / (2.0 * base::k_pi)).cos; }

/// (e^(p l) - 1) / p, smooth through p = 0.
double growth(double p, double l) {
  const double x = p * l;
  if (std::abs(x) < 1e-4) return l * (1.0 + x / 2.0 + x * x / 6.0 + x * x * x / 24.0);
  return (base::exp_of(x) - 1.0) / p;
}

}  // namespace

BuieAureole buie_aureole(double chi) {
  BASE_CHECK(chi > 0.0 && chi <= 0.9, "chi lies in the range of its formulas");
  return {0.9 * base::log_positive(13.5 * chi) * power(chi, -0.3),
          2.2 * base::log_positive(0.52 * chi) * power(chi, 0.43) - 0.1};
}

double buie_disc_radiance(double theta_mrad) {
  return cosine(0.326 * theta_mrad) / cosine(0.308 * theta_mrad);
}

double buie_aureole_radiance(const BuieAureole& aureole, double theta_mrad) {
  return base::exp_of(
      std::max(aureole.kappa + aureole.gamma * base::log_positive(theta_mrad), -700.0));
}

double buie_aureole_flux(const BuieAureole& aureole, double theta_mrad) {
  // With p = gamma + 2: e^kappa (theta^p - edge^p) / p, from the radiance at the disc's edge.
  const double p = aureole.gamma + 2.0;
  const double edge = k_buie_disc_mrad;
  const double at_edge = buie_aureole_radiance(aureole, edge);
  return 2.0 * base::k_pi * at_edge * edge * edge *
         growth(p, base::log_positive(theta_mrad / edge));
}

const BuieDisc& BuieDisc::get() {
  static const BuieDisc disc;
  return disc;
}

BuieDisc::BuieDisc() {
  const double step = k_buie_disc_mrad * k_buie_disc_mrad / static_cast<double>(k_cells);
  const auto at = [&](double cell) { return buie_disc_radiance(std::sqrt(cell * step)); };
  for (std::size_t k = 0; k < k_cells; ++k) {
    const auto cell = static_cast<double>(k);
    sums_[k + 1] =
        sums_[k] + base::k_pi * step / 6.0 * (at(cell) + 4.0 * at(cell + 0.5) + at(cell + 1.0));
  }
}

double BuieDisc::flux(double theta_mrad) const {
  const double step = k_buie_disc_mrad * k_buie_disc_mrad / static_cast<double>(k_cells);
  const double place = std::clamp(theta_mrad * theta_mrad / step, 0.0, 1.0 * k_cells);
  const auto k = std::min(static_cast<std::size_t>(place), k_cells - 1);
  const double t = place - static_cast<double>(k);
  // Hermite's cubic through both sums with both radiances as slopes.
  const double rise = sums_[k + 1] - sums_[k];
  const double slope = base::k_pi * step;
  const double a = slope * buie_disc_radiance(std::sqrt(static_cast<double>(k) * step)) - rise;
  const double b = rise - slope * buie_disc_radiance(std::sqrt(static_cast<double>(k + 1) * step));
  return sums_[k] + t * (rise + (1.0 - t) * (a * (1.0 - t) + b * t));
}

double buie_ratio(double chi) {
  const double disc = BuieDisc::get().whole();
  const double aureole = buie_aureole_flux(buie_aureole(chi), k_buie_edge_mrad);
  return aureole / (disc + aureole);
}

double buie_chi(double ratio) {
  BASE_CHECK(ratio > 0.0 && ratio <= 0.8, "a circumsolar ratio lies in the range of its formulas");
  double low = 1e-4;
  double high = 0.9;
  for (int k = 0; k < 60 && low < high; ++k) {
    const double middle = 0.5 * (low + high);
    (buie_ratio(middle) < ratio ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace optics
