// Blurring the sun's rings by a Gaussian.
#include "optics/cone_kernel.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/units.h"
#include "optics/splat_rows.h"

namespace optics {
namespace {

constexpr double k_tail = 4.5;  ///< Gaussian sigmas kept beyond the sun's edge; 4e-5 lies beyond

/// exp(-x) I0(x) for x >= 0, to 2e-7.
/// Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 9.8.1 and 9.8.2.
double scaled_bessel_i0(double x) {
  const double t = x / 3.75;
  if (t < 1.0) {
    const double q = t * t;
    const double series =
        1.0 +
        q * (3.5156229 +
             q * (3.0899424 + q * (1.2067492 + q * (0.2659732 + q * (0.0360768 + q * 0.0045813)))));
    return base::exp_of(-x) * series;
  }
  const double p = 1.0 / t;
  const double series =
      0.39894228 +
      p * (0.01328592 +
           p * (0.00225319 +
                p * (-0.00157565 +
                     p * (0.00916281 +
                          p * (-0.02057706 +
                               p * (0.02635537 + p * (-0.01647633 + p * 0.00392377)))))));
  return series / std::sqrt(x);
}

/// Value of a table at even steps, linear between them; zero beyond its end.
template <class Table>
double at_place(const Table& table, double place) {
  const auto k = static_cast<std::size_t>(place);
  if (k + 1 >= table.size()) return 0.0;
  const double low = table[k];
  return low + (place - static_cast<double>(k)) * (table[k + 1] - low);
}

/// Scales a density table, cut at its reach, to unit power.
void bring_to_unity(std::vector<double>& density, double step) {
  // The integral of 2 pi r K with K linear between the steps.
  double power = 0.0;
  for (std::size_t k = 0; k + 1 < density.size(); ++k) {
    const auto r = static_cast<double>(k);
    power += base::k_pi / 3.0 * step * step *
             ((3.0 * r + 1.0) * density[k] + (3.0 * r + 2.0) * density[k + 1]);
  }
  for (double& value : density) value /= power;
}

/// Share of the light beyond a line at each step: the integral of the marginal, from outside in.
std::vector<double> shares_beside(const std::vector<double>& density, double step) {
  // The marginal at distance d: twice the integral of K(sqrt(d^2 + y^2)) over y.
  const std::size_t count = density.size();
  std::vector<double> marginal(count, 0.0);
  constexpr int parts = 64;
  const double range = step * static_cast<double>(count - 1);
  for (std::size_t k = 0; k < count; ++k) {
    const double d = step * static_cast<double>(k);
    const double most = std::sqrt(std::max(range * range - d * d, 0.0));
    for (int j = 0; j < parts; ++j) {
      const double y = most * (j + 0.5) / parts;
      marginal[k] += 2.0 * most / parts * at_place(density, std::sqrt(d * d + y * y) / step);
    }
  }
  std::vector<double> beside(count, 0.0);
  for (std::size_t k = count - 1; k-- > 0;) {
    beside[k] = beside[k + 1] + 0.5 * step * (marginal[k] + marginal[k + 1]);
  }
  for (std::size_t k = count; k-- > 0;) beside[k] *= 0.5 / beside[0];
  return beside;
}

std::array<double, ConeTable::k_points> equal_shares(const std::vector<double>& density,
                                                     double step) {
  std::array<double, ConeTable::k_points> radius{};
  double before = 0.0;
  std::size_t k = 0;
  const auto ring = [&] {
    const double r = (static_cast<double>(k) + 0.5) * step;
    return base::k_pi * r * (density[k] + density[k + 1]) * step;
  };
  for (std::size_t point = 0; point < radius.size(); ++point) {
    const double wanted = (static_cast<double>(point) + 0.5) / static_cast<double>(radius.size());
    while (k + 2 < density.size() && before + ring() < wanted) before += ring(), ++k;
    const double part = ring() > 0.0 ? std::min((wanted - before) / ring(), 1.0) : 0.0;
    radius[point] = (static_cast<double>(k) + part) * step;
  }
  return radius;
}

}  // namespace

double ConeBlend::share_beyond(double distance) const {
  const double place = std::abs(distance) * static_cast<double>(steps_per_unit);
  const double beyond =
      (1.0 - part) * at_place(low->beside, place) + part * at_place(high->beside, place);
  return distance >= 0.0 ? beyond : 1.0 - beyond;
}

const std::array<base::Vec2, ConeTable::k_points>& point_directions() {
  static const auto directions = [] {
    std::array<base::Vec2, ConeTable::k_points> made{};
    const double golden_turns = 0.5 * (3.0 - std::sqrt(5.0));
    for (std::size_t k = 0; k < made.size(); ++k) {
      const auto [s, c] = base::sincos_turns(golden_turns * static_cast<double>(k));
      made[k] = {c, s};
    }
    return made;
  }();
  return directions;
}

ConeKernels::ConeKernels(const SunProfile& sun) : sun_(sun) {
  const double deviation = std::sqrt(sun.variance);
  if (deviation > 0.0) {
    // Even in t = sqrt(share within): three Gauss points on each of many
    // panels, apart for the disc and what lies around it.
    const auto add_panels = [&](double first, double last, int panels) {
      for (int panel = 0; panel < panels; ++panel) {
        const double width = (last - first) / panels;
        for (const int point : {-1, 0, 1}) {
          const double t = first + width * (panel + 0.5 + 0.3872983346207417 * point);
          const double weight = width * (point == 0 ? 8.0 : 5.0) / 18.0;
          rings_.push_back({sun.radius(t * t) / deviation, 2.0 * t * weight});
        }
      }
    };
    add_panels(0.0, sun.split, 96);
    if (sun.split < 1.0) add_panels(sun.split, 1.0, 96);
    sun_reach_ = sun.reach_sine / deviation;
  } else {
    rings_.push_back({0.0, 1.0});
  }
  range_ = std::hypot(sun_reach_, k_tail);
}

bool ConeKernels::are_of(const SunProfile& sun) const {
  return sun_.variance == sun.variance && sun_.reach_sine == sun.reach_sine &&
         sun_.disc_sine == sun.disc_sine && sun_.is_pillbox == sun.is_pillbox &&
         sun_.split == sun.split && sun_.disc == sun.disc && sun_.aureole == sun.aureole;
}

double ConeKernels::blurred(double r, double gaussian) const {
  // A ring of radius a blurred by sigma: exp(-(r^2 + a^2) / 2 sigma^2) I0(r a /
  // sigma^2) per 2 pi sigma^2 (the density of the Rice distribution, per area).
  const double scale = std::sqrt(std::max(1.0 - gaussian * gaussian, 0.0));
  const double per_variance = 1.0 / (gaussian * gaussian);
  double sum = 0.0;
  for (const Ring& ring : rings_) {
    const double a = scale * ring.radius;
    const double way = (r - a) * (r - a) * per_variance;
    if (way > 60.0) continue;
    sum += ring.share * base::exp_of(-0.5 * way) * scaled_bessel_i0(r * a * per_variance);
  }
  return sum * per_variance / (2.0 * base::k_pi);
}

ConeTable ConeKernels::made_level(double gaussian) const {
  const double scale = std::sqrt(std::max(1.0 - gaussian * gaussian, 0.0));
  const double reach = std::min(scale * sun_reach_ + k_tail * gaussian, range_);
  const double step = range_ / ConeTable::k_steps;
  std::vector<double> density(ConeTable::k_steps + 1, 0.0);
  for (std::size_t k = 0; k < density.size(); ++k) {
    const double r = static_cast<double>(k) * step;
    if (r < reach) density[k] = blurred(r, gaussian);
  }
  bring_to_unity(density, step);
  ConeTable made;
  made.reach = reach;
  made.beside = shares_beside(density, step);
  made.radius = equal_shares(density, step);
  std::transform(density.begin(), density.end(), made.density.begin(),
                 [](double value) { return static_cast<float>(value); });
  return made;
}

const ConeTable& ConeKernels::level(int index) {
  auto& made = levels_[static_cast<std::size_t>(index)];
  if (!made) made = made_level(static_cast<double>(index) / k_levels);
  return *made;
}

ConeBlend ConeKernels::blend(double gaussian_share) {
  const double place = std::clamp(gaussian_share, 1.0 / k_levels, 1.0) * k_levels;
  const int first = std::min(static_cast<int>(place), k_levels - 1);
  ConeBlend made;
  made.low = &level(first);
  made.high = &level(first + 1);
  made.part = place - first;
  made.steps_per_unit = static_cast<float>(ConeTable::k_steps / range_);
  made.reach = std::max(made.low->reach, made.part > 0.0 ? made.high->reach : 0.0);
  return made;
}

ConeProfile ConeKernels::profile(double gaussian_share) {
  ConeProfile made{blend(gaussian_share)};
  const auto part = static_cast<float>(made.part);
  optics::blend(made.low->density.data(), static_cast<float>(1.0 - made.part),
                made.high->density.data(), part, made.density.data(),
                static_cast<int>(made.density.size()));
  return made;
}

}  // namespace optics
