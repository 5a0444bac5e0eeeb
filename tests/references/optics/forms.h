// Forms of single facets: outside values of what surface suits a place, and what others cost.
#pragma once

#include <array>

namespace references {

/// Facets on a flat frame below a focus at 1.5 m: distance r from the axis, tilt (deg), distance to
/// the focus. Source: tilt = atan(r / f) / 2; the table of k_flat_frame. The piece that serves them
/// has a focal length p cos^2(tilt) and stands p sin(2 tilt) from its axis, which is r itself.
/// (polar equation of the parabola.) Tolerance 1e-6 of the printed distance.

/// Sphere with the least rms for a small square facet of width w at incidence i and distance p
/// under parallel light: from Coddington's foci (R/2) cos i and R / (2 cos i) the two blurs are
/// w (cos i - c) and w (1 - c cos i) with c = 2p/R; their squares are least together at
/// R = p (cos i + 1/cos i), and what is left is w sin^2 i / sqrt(12 (1 + cos^2 i)).
/// Raw numbers: i (deg), R / p, rms / w. Tolerance 2e-4: higher terms in w / p at w / p = 0.01.
inline constexpr const char* k_best_spheres_source =
    "Coddington's foci, Born & Wolf, Principles of Optics, 4.6: best spheres";
inline constexpr std::array<std::array<double, 3>, 4> k_best_spheres = {{{10, 2.000234, .006202},
                                                                         {15, 2.001202, .013909},
                                                                         {22.5, 2.006272, .031052},
                                                                         {30, 2.020726, .054554}}};

/// Sag at the middle of the side of a sphere, R - sqrt(R^2 - w^2/4): R, w, sag (mm).
/// Source: geometry of the circle; the approximation w^2 / 8R gives 2.8125. Tolerance 5e-6 mm.
inline constexpr std::array<double, 3> k_sphere_sag = {4.0, 0.3, 2.81349};

/// Defocus of a small mirror at normal incidence, w |1 - 2p/R|: w .3, p 2, R 4.2 -> width (mm) of
/// the blur. Source: paraxial mirror equation. Tolerance 0.1 % at a
/// tenth of the width: higher terms of the sphere, 1 % at the full width.
inline constexpr std::array<double, 4> k_defocus = {0.3, 2.0, 4.2, 14.2857};

}  // namespace references
