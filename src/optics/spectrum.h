// Sunlight over its wavelengths, and what mirrors are made of.
#pragma once

#include <vector>

namespace optics {

/// Refractive index n + i k.
struct Index {
  double n = 1.0;
  double k = 0.0;
};

struct SpectrumNode {
  double wavelength_nm = 0.0;
  double weight_W_m2 = 0.0;  ///< of the direct sunlight around it
  Index silver, aluminium, gold, copper, acrylic, glass;
};

/// ASTM G173-03 direct and the constants of assets/spectra.csv, which names their sources; by
/// rising wavelength. Read once, never changed.
const std::vector<SpectrumNode>& solar_spectrum();

}  // namespace optics
