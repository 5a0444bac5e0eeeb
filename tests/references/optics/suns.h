// The sun's size and brightness: outside values.
#pragma once

#include <array>

namespace references {

/// Half angle of the sun from 1 au, mrad: asin(695 700 km / 149 597 870.7 km).
/// Tolerance 0.001 mrad: the trade rounds it to 4.65.
inline constexpr const char* k_sun_half_angle_source =
    "IAU 2015 Resolution B3 (nominal solar radius), IAU 2012 Resolution B2 (au)";
inline constexpr double k_sun_half_angle_mrad = 4.65048;

/// A hemisphere full of sun of 4.65 mrad over the direct irradiance: 1 / sin^2(t).
/// Tolerance 1e-6 relative, the rounding of the number.
inline constexpr const char* k_full_sky_source =
    "thermodynamic limit; Welford & Winston, High Collection Nonimaging Optics: full sky";
inline constexpr double k_full_sky_suns = 46248.45;

/// Linear limb darkening, u: mean over middle brightness 1 - u/3, standard deviation per axis over
/// the radius sqrt{[(1-u)/4 + 2u/15] / [(1-u)/2 + u/3] / 2}.
/// u = 0.6 is the grey atmosphere of Eddington (1926).
/// Tolerance 1e-6 of the closed forms (tables of the profile: 2e-6), the rounding of the numbers.
inline constexpr const char* k_limb_source =
    "linear law of limb darkening (Eddington 1926) integrated over the disc";
struct LimbRow {
  double u;
  double mean_over_middle;
  double sigma_over_radius;
};
inline constexpr std::array<LimbRow, 4> k_limb = {
    {{.5, .83333, .479583}, {.56, .81333, .476498}, {.6, .80000, .474342}, {.61, .79667, .473790}}};
/// Share within x radii for u = 0.61, [(1-u)x^2/2 + (u/3)(1-(1-x^2)^1.5)] / [(1-u)/2 + u/3].
inline constexpr std::array<std::array<double, 2>, 4> k_limb_encircled = {
    {{.25, .077696}, {.5, .301292}, {.75, .638110}, {.9, .864711}}};
/// The sun of the solar furnaces: (1 + 1.5641 mu) / 2.5641, which is the linear law of u = 0.61.
/// Tolerance 1e-4, the rounding of u.
inline constexpr const char* k_furnace_source =
    "Jose, Solar Energy 1 (1957) 19: solar furnaces' sun";
inline constexpr double k_furnace_slope = 1.5641;
/// Other measured laws at 550 and 600 nm: standard deviation per axis over the radius.
/// Tolerance 0.3 %: the linear law against theirs.
inline constexpr std::array<const char*, 2> k_other_limb_sources = {
    "0.3 + 0.93 mu - 0.23 mu^2, Cox, Allen's Astrophysical Quantities (2000)",
    "mu^0.464, Hestroffer & Magnan, A&A 333 (1998) 338"};
inline constexpr std::array<double, 2> k_other_limb_sigmas = {.472647, .473302};
/// Peak of an image over that of an even sun of the same power, u = 0.61: 1 / (1 - u/3).
inline constexpr double k_limb_peak_gain = 1.25523;

/// The circumsolar sun of Buie, Monger & Dey. All integrals over 2 pi theta d theta, by closed form
/// or quadrature; tolerance 1e-5 relative, and half of the last digit.
inline constexpr const char* k_buie_disc_source =
    "Buie, Monger & Dey, Solar Energy 74 (2003) 113, integrated: the disc";
inline constexpr const char* k_buie_aureole_source =
    "Buie, Monger & Dey, Solar Energy 74 (2003) 113, integrated: the aureole";
inline constexpr const char* k_buie_chi_source =
    "Buie, Monger & Dey, Solar Energy 74 (2003) 113, solved for chi: the calibration";
inline constexpr const char* k_buie_encircled_source =
    "Buie, Monger & Dey, Solar Energy 74 (2003) 113, integrated: shares";
inline constexpr double k_buie_disc_flux_mrad2 = 57.960750;
inline constexpr double k_buie_at_edge = .397159;
inline constexpr double k_buie_disc_sigma_mrad = 2.22035;
inline constexpr std::array<std::array<double, 3>, 4> k_buie_disc = {
    {{1, .994112, .054044}, {2, .973874, .214105}, {3, .927069, .472167}, {4, .793263, .802681}}};

struct BuieRow {
  double chi;
  double kappa;
  double gamma;
  double just_outside;  ///< radiance at 4.65 mrad, of the aureole
  double aureole_flux_mrad2;
  double ratio;       ///< as it comes out
  double sigma_mrad;  ///< per axis; 0: not in the table
};
inline constexpr std::array<BuieRow, 12> k_buie = {{
    {.01, -7.174817, -1.697106, .000056, .024533, .000423, 2.24381},
    {.02, -3.810515, -1.968085, .001075, .338919, .005813, 2.47928},
    {.03, -2.329224, -2.126417, .003708, .982060, .016661, 0},
    {.05, -.868943, -2.314277, .011966, 2.612806, .043134, 3.46903},
    {.10, .538909, -2.516586, .035838, 6.459256, .100268, 4.37305},
    {.15, 1.121902, -2.582334, .058030, 9.861079, .145397, 0},
    {.20, 1.448748, -2.592413, .079226, 13.344112, .187142, 5.46956},
    {.30, 1.806492, -2.535606, .123638, 21.903912, .274263, 0},
    {.40, 1.997951, -2.429529, .176239, 34.428985, .372649, 7.82831},
    {.50, 2.115830, -2.299739, .242062, 53.622187, .480559, 0},
    {.60, 2.194475, -2.157128, .326037, 83.583200, .590511, 0},
    {.80, 2.289864, -1.853015, .572367, 206.087378, .780492, 0},
}};
/// The calibration: wanted ratio and the chi that gives it. Tolerance 1e-5.
inline constexpr std::array<std::array<double, 2>, 13> k_buie_chi = {{{.01, .024290},
                                                                      {.02, .032635},
                                                                      {.03, .040184},
                                                                      {.05, .055266},
                                                                      {.10, .099728},
                                                                      {.15, .155439},
                                                                      {.20, .215378},
                                                                      {.25, .273273},
                                                                      {.30, .327367},
                                                                      {.40, .425981},
                                                                      {.50, .517575},
                                                                      {.60, .608833},
                                                                      {.70, .707292}}};
/// chi, share within 5, 10 and 20 mrad.
inline constexpr std::array<std::array<double, 4>, 3> k_buie_encircled = {
    {{.05, .95879, .97513, .98827}, {.1, .90512, .94753, .97718}, {.2, .82358, .90578, .96030}}};

/// Gaussian: share within r sigmas, 1 - exp(-r^2/2). Tolerance 5e-6: the profile ends at five
/// sigma.
inline constexpr const char* k_gaussian_encircled_source =
    "Rayleigh distribution (any handbook of statistics): Gaussian sun";
inline constexpr std::array<std::array<double, 2>, 5> k_gaussian_encircled = {
    {{1.177410, .5}, {1.794123, .8}, {2.145966, .9}, {2.447747, .95}, {3.034854, .99}}};

}  // namespace references
