// Fresnel at the boundaries, Beer in between.
#include "optics/coating.h"

#include <algorithm>

#include "base/check.h"
#include "base/elementary.h"
#include "base/units.h"

namespace optics {
namespace {

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

double reflectance_of(const dish::Coating& coating, const Stack& stack) {
  const Index air;
  if (coating.cover == dish::Cover::none) return boundary_reflectance(air, stack.metal);
  const double per_metre = 4.0 * base::k_pi * stack.cover.k / (stack.wavelength_nm * 1e-9);
  const double tau = base::exp_of(-std::min(per_metre * coating.thickness_m, 700.0));
  return covered_reflectance(boundary_reflectance(air, {stack.cover.n, 0.0}),
                             boundary_reflectance(stack.cover, stack.metal), tau);
}

Index blend(const Index& a, const Index& b, double share) {
  return {a.n + share * (b.n - a.n), a.k + share * (b.k - a.k)};
}

}  // namespace

double boundary_reflectance(const Index& from, const Index& to) {
  const double dn = from.n - to.n;
  const double dk = from.k - to.k;
  const double sn = from.n + to.n;
  const double sk = from.k + to.k;
  return (dn * dn + dk * dk) / (sn * sn + sk * sk);
}

double covered_reflectance(double r1, double r2, double tau) {
  const double tau2 = tau * tau;
  return r1 + (1.0 - r1) * (1.0 - r1) * tau2 * r2 / (1.0 - r1 * r2 * tau2);
}

double reflectance_at(const dish::Coating& coating, double wavelength_nm) {
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
      coating, {wavelength_nm, blend(a.metal, b.metal, share), blend(a.cover, b.cover, share)});
}

double solar_reflectance(const dish::Coating& coating) {
  double reflected = 0.0;
  double incident = 0.0;
  for (const SpectrumNode& node : solar_spectrum()) {
    reflected += node.weight_W_m2 * reflectance_of(coating, stack_of(coating, node));
    incident += node.weight_W_m2;
  }
  return reflected / incident;
}

double mirror_reflectance(double number, const std::optional<dish::Coating>& coating,
                          double cleanliness) {
  return (coating ? solar_reflectance(*coating) : number) * cleanliness;
}

}  // namespace optics
