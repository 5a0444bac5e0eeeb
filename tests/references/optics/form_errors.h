// Errors of a mirror's form: outside values.
#pragma once

#include <array>

namespace references {

/// Heights and slopes of low-order terms over the unit disc: root mean square of rho^2 about its
/// mean, rho^2 cos 2 phi and rho^3 cos 3 phi, and of the length of their gradients.
/// sqrt(3) (2 rho^2 - 1), sqrt(6) rho^2 cos 2 phi and sqrt(8) rho^3 cos 3 phi have unit variance;
/// gradients 2 rho, 2 rho and 3 rho^2 by differentiation. Tolerance 1e-3: a sum over a grid.
inline constexpr const char* k_noll_source =
    "Noll, J. Opt. Soc. Am. 66 (1976) 207: Zernike polynomials of unit variance";
inline constexpr double k_defocus_rms = 0.28867513;       ///< 1 / sqrt(12)
inline constexpr double k_astigmatism_rms = 0.40824829;   ///< 1 / sqrt(6)
inline constexpr double k_trefoil_rms = 0.35355339;       ///< 1 / sqrt(8)
inline constexpr double k_square_slope_rms = 1.41421356;  ///< sqrt(2), of both square terms
inline constexpr double k_trefoil_slope_rms = 1.73205081;

/// Square mirror of 0.3 m, radius of curvature 4.2 m, seen at 2 m: extent of the spot of collimated
/// light, w |1 - 2p/R|, mm. Tolerance 2e-3: third order, (w/R)^2.
inline constexpr const char* k_defocused_extent_source =
    "mirror equation, Born & Wolf, Principles of Optics, 4.4: defocused tile";
inline constexpr double k_defocused_extent_mm = 14.2857;

/// Sag of a spherical tile across its width, w^2 / 8R: w 0.3 m, R 4.2 m; mm.
/// Source: sagitta of a shallow arc (any optics text).
inline constexpr double k_tile_sag_mm = 2.678571;

}  // namespace references
