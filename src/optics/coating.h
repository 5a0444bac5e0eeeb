// Reflectance of metals, bare or behind a cover, at one wavelength and over sunlight.
#pragma once

#include <optional>

#include "dish/coating.h"
#include "optics/spectrum.h"

namespace optics {

/// Share reflected where light meets a boundary square on: |(a - b) / (a + b)|^2 (Fresnel; Born &
/// Wolf, Principles of Optics, 1.5 and 14.2).
double boundary_reflectance(const Index& from, const Index& to);

/// A metal of reflectance `r2` behind a cover whose front reflects `r1` and which lets `tau`
/// through in one pass; no interference, as of covers many wavelengths thick:
/// r1 + (1 - r1)^2 tau^2 r2 / (1 - r1 r2 tau^2).
double covered_reflectance(double r1, double r2, double tau);

/// At one of the table's wavelengths, or linear in n and k between two of them; 280 to 4000 nm.
double reflectance_at(const dish::Coating& coating, double wavelength_nm);

/// The mean over direct sunlight (ASTM G173-03), square on.
///
/// Left out: incidence. Of bare metals 30 degrees change it by less than 0.001 and 60 degrees by
/// 0.001 (silver) to 0.014 (aluminium); a cover's longer path at 30 degrees costs about 0.003
/// (3 mm of glass) to 0.006 (3 mm of acrylic). Also oxide, roughness, interference in thin films
/// and the UV absorbers of plastics, which cut off another 1 to 2 % of sunlight.
double solar_reflectance(const dish::Coating& coating);

/// Of a mirror as it stands: its coating's or its number, times its cleanliness.
double mirror_reflectance(double number, const std::optional<dish::Coating>& coating,
                          double cleanliness);

}  // namespace optics
