// One branch for each shape, then tables of where shares of the light lie.
#include "optics/sun_profile.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/elementary.h"
#include "base/units.h"

namespace optics {
namespace {

constexpr double k_gaussian_reach = 5.0;  ///< sigmas; 3.7e-6 of a Gaussian's light lies beyond
constexpr double k_gaussian_split = 2.0;

double sine(double radians) { return base::sincos_turns(radians / (2.0 * base::k_pi)).sin; }

/// What a Gaussian sends within r sigmas, before its end is cut off.
double gaussian_share(double r) { return 1.0 - base::exp_of(-0.5 * r * r); }

/// Brightness of a disc of radius 1, of power one over 2 pi x dx, and its share within x.
/// Source: the linear law integrated over the disc; its mean is 1 - u / 3 of its middle.
double limb_radiance(double u, double x) {
  const double mu = std::sqrt(std::max(1.0 - x * x, 0.0));
  return (1.0 - u * (1.0 - mu)) / (base::k_pi * (1.0 - u / 3.0));
}

double limb_share(double u, double x) {
  const double mu = std::sqrt(std::max(1.0 - x * x, 0.0));
  const double lost = 1.0 - mu * mu * mu;
  return (0.5 * (1.0 - u) * x * x + u / 3.0 * lost) / (0.5 * (1.0 - u) + u / 3.0);
}

double mrad_of(const SunProfile& profile, double s) {
  return k_buie_disc_mrad * s / profile.disc_sine;
}

struct Radiance {
  const SunProfile& profile;
  double s;

  double operator()(const dish::PillboxSun&) const {
    return 1.0 / (base::k_pi * base::square(profile.disc_sine));
  }
  double operator()(const dish::LimbDarkenedSun& sun) const {
    return limb_radiance(sun.coefficient, s / profile.disc_sine) / base::square(profile.disc_sine);
  }
  double operator()(const dish::GaussianSun&) const {
    const double sigma = profile.disc_sine;
    return base::exp_of(-0.5 * base::square(s / sigma)) /
           (2.0 * base::k_pi * base::square(sigma) * gaussian_share(k_gaussian_reach));
  }
  double operator()(const dish::CircumsolarSun&) const {
    const double theta = mrad_of(profile, s);
    const double brightness = theta <= k_buie_disc_mrad
                                  ? buie_disc_radiance(theta)
                                  : buie_aureole_radiance(profile.buie, theta);
    return brightness / profile.flux_mrad2 * base::square(k_buie_disc_mrad / profile.disc_sine);
  }
};

struct Share {
  const SunProfile& profile;
  double s;

  double operator()(const dish::PillboxSun&) const { return base::square(s / profile.disc_sine); }
  double operator()(const dish::LimbDarkenedSun& sun) const {
    return limb_share(sun.coefficient, s / profile.disc_sine);
  }
  double operator()(const dish::GaussianSun&) const {
    return gaussian_share(s / profile.disc_sine) / gaussian_share(k_gaussian_reach);
  }
  double operator()(const dish::CircumsolarSun&) const {
    const double theta = mrad_of(profile, s);
    const double disc = BuieDisc::get().flux(theta);
    if (theta <= k_buie_disc_mrad) return disc / profile.flux_mrad2;
    return (disc + buie_aureole_flux(profile.buie, theta)) / profile.flux_mrad2;
  }
};

/// The distance within which a share lies: Newton's steps, halved back into what brackets it.
double distance_of(const SunProfile& profile, double wanted, double low, double high) {
  double s = 0.5 * (low + high);
  for (int k = 0; k < 100; ++k) {
    const double miss = share_within(profile, s) - wanted;
    (miss > 0.0 ? high : low) = s;
    double next = s - miss / (2.0 * base::k_pi * s * radiance(profile, s));
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::abs(next - s) <= 1e-13 * profile.reach_sine) return next;
    s = next;
  }
  return s;
}

/// Distances at even steps of t from one share to another, which lie at `low` and `high`.
std::vector<float> tabulate(const SunProfile& profile, double from_t, double to_t, double low,
                            double high) {
  std::vector<float> table;
  table.reserve(SunProfile::k_steps + 1);
  double last = low;
  for (int k = 0; k <= SunProfile::k_steps; ++k) {
    const double t = from_t + (to_t - from_t) * k / SunProfile::k_steps;
    if (k == SunProfile::k_steps)
      last = high;
    else if (k > 0)
      last = distance_of(profile, t * t, last, high);
    table.push_back(static_cast<float>(last));
  }
  return table;
}

/// Half the mean of the distance's square, exact for the straight pieces of a table.
double variance_of(const std::vector<float>& table, double from_t, double to_t) {
  double sum = 0.0;
  const double step = (to_t - from_t) / SunProfile::k_steps;
  for (std::size_t k = 0; k + 1 < table.size(); ++k) {
    const double t = from_t + step * static_cast<double>(k);
    const double a = table[k];
    const double b = table[k + 1];
    // Half the integral of r^2 2 t dt over a step in which r is linear.
    sum += step * t * (a * a + a * b + b * b) / 3.0 +
           step * step * (a * a + 2.0 * a * b + 3.0 * b * b) / 12.0;
  }
  return sum;
}

}  // namespace

double SunProfile::radius(double u) const {
  const double t = std::sqrt(u);
  if (is_pillbox) return disc_sine * t;
  const bool is_disc = t < split;
  const std::vector<float>& table = is_disc ? disc : aureole;
  const double place = is_disc ? t / split * k_steps : (t - split) / (1.0 - split) * k_steps;
  const auto k = std::min(static_cast<std::size_t>(place), static_cast<std::size_t>(k_steps - 1));
  const double a = table[k];
  return a + (place - static_cast<double>(k)) * (table[k + 1] - a);
}

SunProfile make_sun_profile(const dish::Sun& sun) {
  SunProfile made;
  made.shape = sun.shape;
  made.disc_sine = sine(sun.half_angle_rad);
  made.reach_sine = made.disc_sine;
  made.is_pillbox = std::holds_alternative<dish::PillboxSun>(sun.shape);
  made.variance = 0.25 * base::square(made.disc_sine);
  if (made.is_pillbox) return made;
  double middle_reach = made.disc_sine;
  if (const auto* gaussian = std::get_if<dish::GaussianSun>(&sun.shape)) {
    made.disc_sine = gaussian->sigma_rad;
    made.reach_sine = k_gaussian_reach * gaussian->sigma_rad;
    middle_reach = k_gaussian_split * gaussian->sigma_rad;
  }
  if (const auto* circumsolar = std::get_if<dish::CircumsolarSun>(&sun.shape)) {
    made.flux_mrad2 = BuieDisc::get().whole();
    if (circumsolar->ratio > 0.0) {
      made.buie = buie_aureole(buie_chi(circumsolar->ratio));
      made.reach_sine *= k_buie_edge_mrad / k_buie_disc_mrad;
      made.flux_mrad2 += buie_aureole_flux(made.buie, k_buie_edge_mrad);
    }
  }
  BASE_CHECK(made.disc_sine > 0.0, "only an even sun may be a point");
  BASE_CHECK(made.reach_sine < 1.0, "the sun's light comes from before the mirror");
  const bool has_tail = made.reach_sine > middle_reach;
  if (has_tail) made.split = std::sqrt(share_within(made, middle_reach));
  made.disc = tabulate(made, 0.0, made.split, 0.0, middle_reach);
  made.variance = variance_of(made.disc, 0.0, made.split);
  if (!has_tail) return made;
  made.aureole = tabulate(made, made.split, 1.0, middle_reach, made.reach_sine);
  made.variance += variance_of(made.aureole, made.split, 1.0);
  return made;
}

double radiance(const SunProfile& profile, double s) {
  if (s > profile.reach_sine) return 0.0;
  return std::visit(Radiance{profile, s}, profile.shape);
}

double share_within(const SunProfile& profile, double s) {
  if (s >= profile.reach_sine) return 1.0;
  return std::visit(Share{profile, s}, profile.shape);
}

}  // namespace optics
