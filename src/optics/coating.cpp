// Fresnel at the boundaries, Beer in between.
#include "optics/coating.h"

#include <algorithm>
#include <cmath>
#include <complex>

#include "base/check.h"
#include "base/elementary.h"
#include "base/units.h"
#include "base/vec.h"

namespace optics {
namespace {

using Complex = std::complex<double>;

constexpr int k_sine2_steps = 16;

double size2(const Complex& z) { return z.real() * z.real() + z.imag() * z.imag(); }

// Roots and quotients of operations that every machine rounds alike: libraries divide complex
// numbers in ways of their own.

/// The root whose real part is not negative.
Complex root(const Complex& z) {
  const double size = std::sqrt(size2(z));
  const double real = std::sqrt(std::max(0.5 * (size + z.real()), 0.0));
  const double imaginary = std::sqrt(std::max(0.5 * (size - z.real()), 0.0));
  return {real, z.imag() < 0.0 ? -imaginary : imaginary};
}

const Index& metal_of(const dish::Coating& coating, const SpectrumNode& node) {
  switch (coating.metal) {
    case dish::Metal::aluminium:
      return node.aluminium;
    case dish::Metal::gold:
      return node.gold;
    case dish::Metal::copper:
      return node.copper;
    case dish::Metal::silver:
      break;
  }
  return node.silver;
}

/// What one wavelength meets.
struct Stack {
  double wavelength_nm = 0.0;
  Index metal;
  Index cover;
};

Stack stack_of(const dish::Coating& coating, const SpectrumNode& node) {
  return {node.wavelength_nm, metal_of(coating, node),
          coating.cover == dish::Cover::acrylic ? node.acrylic : node.glass};
}

/// Of one polarisation: front, metal behind the cover, and one pass through.
Polarised covered(const Polarised& front, const Polarised& back, double tau) {
  return {covered_reflectance(front.across, back.across, tau),
          covered_reflectance(front.within, back.within, tau)};
}

double reflectance_of(const dish::Coating& coating, const Stack& stack, double cosine) {
  const Index air;
  Polarised both = boundary_reflectance(air, stack.metal, cosine);
  if (coating.cover != dish::Cover::none) {
    const Index clear{stack.cover.n, 0.0};
    const double inside = std::sqrt(1.0 - (1.0 - cosine * cosine) / base::square(clear.n));
    const double per_metre = 4.0 * base::k_pi * stack.cover.k / (stack.wavelength_nm * 1e-9);
    const double tau = base::exp_of(-std::min(per_metre * coating.thickness_m / inside, 700.0));
    both = covered(boundary_reflectance(air, clear, cosine),
                   boundary_reflectance(stack.cover, stack.metal, inside), tau);
  }
  return 0.5 * (both.across + both.within);
}

Index blend(const Index& a, const Index& b, double share) {
  return {a.n + share * (b.n - a.n), a.k + share * (b.k - a.k)};
}

}  // namespace

Polarised boundary_reflectance(const Index& from, const Index& to, double cosine) {
  const Complex a(from.n, from.k);
  const Complex b(to.n, to.k);
  const double sine_before = from.n * std::sqrt(std::max(1.0 - cosine * cosine, 0.0));
  const Complex sine = (sine_before / size2(b)) * std::conj(b);
  const Complex behind = root(1.0 - sine * sine);
  return {size2(a * cosine - b * behind) / size2(a * cosine + b * behind),
          size2(b * cosine - a * behind) / size2(b * cosine + a * behind)};
}

double covered_reflectance(double r1, double r2, double tau) {
  const double tau2 = tau * tau;
  return r1 + (1.0 - r1) * (1.0 - r1) * tau2 * r2 / (1.0 - r1 * r2 * tau2);
}

double reflectance_at(const dish::Coating& coating, double wavelength_nm, double cosine) {
  const std::vector<SpectrumNode>& nodes = solar_spectrum();
  BASE_CHECK(
      wavelength_nm >= nodes.front().wavelength_nm && wavelength_nm <= nodes.back().wavelength_nm,
      "the wavelength lies within the table");
  const auto after = std::find_if(nodes.begin() + 1, nodes.end() - 1, [&](const auto& node) {
    return node.wavelength_nm >= wavelength_nm;
  });
  const auto before = after - 1;
  const double share =
      (wavelength_nm - before->wavelength_nm) / (after->wavelength_nm - before->wavelength_nm);
  const Stack a = stack_of(coating, *before);
  const Stack b = stack_of(coating, *after);
  return reflectance_of(
      coating, {wavelength_nm, blend(a.metal, b.metal, share), blend(a.cover, b.cover, share)},
      cosine);
}

double solar_reflectance(const dish::Coating& coating, double cosine) {
  double reflected = 0.0;
  double incident = 0.0;
  for (const SpectrumNode& node : solar_spectrum()) {
    reflected += node.weight_W_m2 * reflectance_of(coating, stack_of(coating, node), cosine);
    incident += node.weight_W_m2;
  }
  return reflected / incident;
}

MirrorReflectance::MirrorReflectance(double number, const std::optional<dish::Coating>& coating,
                                     double cleanliness) {
  if (!coating) {
    over_sine2_ = {number * cleanliness};
    return;
  }
  for (int step = 0; step < k_sine2_steps; ++step) {
    const double sine2 = static_cast<double>(step) / k_sine2_steps;
    over_sine2_.push_back(solar_reflectance(*coating, std::sqrt(1.0 - sine2)) * cleanliness);
  }
  // No sunlight comes along the glass.
  over_sine2_.push_back(over_sine2_.back());
}

double MirrorReflectance::at(double cosine) const {
  if (over_sine2_.size() == 1) return over_sine2_.front();
  const double place = std::clamp(1.0 - cosine * cosine, 0.0, 1.0) * k_sine2_steps;
  const auto step = std::min(static_cast<std::size_t>(place), over_sine2_.size() - 2);
  const double share = place - static_cast<double>(step);
  return over_sine2_[step] + share * (over_sine2_[step + 1] - over_sine2_[step]);
}

}  // namespace optics
