// How bright the sun is from its middle outward.
#pragma once

#include <variant>

namespace dish {

/// Even over the disc.
struct PillboxSun {};

/// Darker toward the rim by the linear law I / I0 = 1 - u (1 - mu), mu = sqrt(1 - x^2).
struct LimbDarkenedSun {
  double coefficient = 0.6;  ///< u, 0..1; 0.6 is the grey atmosphere
};

/// A round Gaussian; the half angle of the disc plays no part.
struct GaussianSun {
  double sigma_rad = 0.0028;  ///< standard deviation per axis
};

/// A darkened disc in an aureole, by the share of all light that comes from the aureole.
struct CircumsolarSun {
  double ratio = 0.05;  ///< aureole / (disc + aureole) as it comes out, 0..0.8
};

using SunShape = std::variant<PillboxSun, LimbDarkenedSun, GaussianSun, CircumsolarSun>;

}  // namespace dish
