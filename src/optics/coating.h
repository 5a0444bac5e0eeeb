// Reflectance of metals, bare or behind a cover, at one wavelength and over sunlight.
#pragma once

#include <optional>
#include <vector>

#include "dish/coating.h"
#include "optics/spectrum.h"

namespace optics {

/// Shares reflected of the two polarisations.
struct Polarised {
  double across = 0.0;  ///< s: the field square to the plane of incidence
  double within = 0.0;  ///< p
};

/// Where light meets a boundary from a medium that absorbs little, the cosine of its incidence in
/// (0, 1]: |(a cos - b cos') / (a cos + b cos')|^2 across and |(b cos - a cos') / (b cos + a
/// cos')|^2 within, cos' the complex cosine behind by Snell's law (Fresnel; Born & Wolf, Principles
/// of Optics, 1.5 and 14.2). Square on both are |(a - b) / (a + b)|^2.
Polarised boundary_reflectance(const Index& from, const Index& to, double cosine = 1.0);

/// A metal of reflectance `r2` behind a cover whose front reflects `r1` and which lets `tau`
/// through in one pass; no interference, as of covers many wavelengths thick:
/// r1 + (1 - r1)^2 tau^2 r2 / (1 - r1 r2 tau^2).
double covered_reflectance(double r1, double r2, double tau);

/// Of unpolarised light that comes at the cosine of an incidence, in (0, 1]. At one of the table's
/// wavelengths, or linear in n and k between two of them; 280 to 4000 nm.
double reflectance_at(const dish::Coating& coating, double wavelength_nm, double cosine = 1.0);

/// The mean over direct sunlight (ASTM G173-03).
///
/// Left out: oxide, roughness, interference in thin films and the UV absorbers of plastics, which
/// cut off another 1 to 2 % of sunlight.
double solar_reflectance(const dish::Coating& coating, double cosine = 1.0);

/// Of a mirror as it stands, at any incidence: its coating's or its number, times its cleanliness.
class MirrorReflectance {
 public:
  MirrorReflectance(double number, const std::optional<dish::Coating>& coating, double cleanliness);

  /// At the cosine of an incidence, 0..1. Between its table's places to 2e-5 up to 60 degrees.
  [[nodiscard]] double at(double cosine) const;

 private:
  /// At even steps of the sine squared, in which a longer way through a cover is straight; one
  /// place for a number.
  std::vector<double> over_sine2_;
};

}  // namespace optics
