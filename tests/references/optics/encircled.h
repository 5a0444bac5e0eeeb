// Encircled power of the classic cases: outside values that the tracer is held to.
#pragma once

#include <array>

namespace references {

/// A perfect paraboloid of f = 1 m under an even sun of 4.65 mrad, flat target in the focal plane:
/// share of the aperture's power within radius r (mm).
/// The separate program is converged to 3e-5; the inner part is the closed form
/// (r/R)^2 sin^2(phi)/sin^2(t), R = 2 f tan(phi/2).
/// Tolerance: 3e-5 of the table, 5e-6 of its rounding, five standard errors of the trace (some 5e-4
/// each at 1.3e5 rays). Seen at 4.2e6 rays: 3e-5 at 60 degrees and 5.5 mm.
inline constexpr const char* k_paraboloid_encircled_source =
    "exact rays by quadrature in a separate program; Duffie & Beckman, Solar Engineering of "
    "Thermal Processes, ch. 7: spot of a paraboloid";
struct FocalSpotRow {
  double rim_angle_deg;
  double radius_mm;
  double share;
};
inline constexpr std::array<FocalSpotRow, 30> k_paraboloid_encircled = {{
    {30, 1, .04026},   {30, 2, .16105},    {30, 3, .36234}, {30, 4, .64415},   {30, 4.65, .87050},
    {30, 5, .96185},   {30, 5.5, .99796},  {45, 1, .03370}, {45, 2, .13478},   {45, 3, .30325},
    {45, 4, .53911},   {45, 4.65, .72855}, {45, 5, .82367}, {45, 5.5, .91212}, {45, 6, .95912},
    {45, 6.5, .98438}, {45, 7, .99622},    {60, 1, .02602}, {60, 2, .10406},   {60, 3, .23413},
    {60, 4, .41623},   {60, 4.65, .56250}, {60, 5, .64075}, {60, 5.5, .73178}, {60, 6, .80099},
    {60, 6.5, .85137}, {60, 7, .88915},    {60, 8, .94100}, {60, 10, .98919},  {60, 12, .99988},
}};

/// Rms radius of the same spots, mm. Tolerance 0.1 %: the trace.
inline constexpr std::array<std::array<double, 2>, 3> k_paraboloid_rms_mm = {
    {{30, 3.5424}, {45, 3.9686}, {60, 4.9227}}};

/// An even disc of radius A convolved with a Gaussian of sigma per axis: share within R.
/// int_0^1 2 rho P(R^2/sigma^2; 2, (rho A/sigma)^2) d rho with P the non-central chi-square
/// distribution of two degrees of freedom, by quadrature. Rounded to 5 digits.
/// Tolerance: rounding 5e-6, tangent against sine of 4.65 mrad 1e-5, five standard errors of the
/// trace. Seen at 4.2e6 rays: 2e-5 to 5e-5.
inline constexpr const char* k_blurred_disc_source =
    "non-central chi-square distribution over an even disc, by quadrature: blurred disc";
struct BlurredDiscRow {
  double sigma_over_a;
  double radius_over_a;
  double share;
};
inline constexpr std::array<BlurredDiscRow, 21> k_blurred_disc = {{
    {0.25, 0.5, .24711}, {0.25, 1, .80211},  {0.25, 1.5, .99487}, {0.5, 0.5, .19936},
    {0.5, 1, .61425},    {0.5, 1.5, .90218}, {0.5, 2, .98845},    {0.75, 1, .45070},
    {0.75, 1.5, .74658}, {0.75, 2, .91726},  {1, 0.5, .09377},    {1, 1, .32633},
    {1, 1.5, .59051},    {1, 2, .79742},     {1, 3, .97384},      {1.5, 1, .18073},
    {1.5, 2, .54991},    {1.5, 4, .95952},   {2, 1, .11087},      {2, 2, .37509},
    {2, 4, .84775},
}};

/// Gaussian beam error, one small mirror, receiver facing it.
/// Disc of radius a: 1 - exp(-a^2 / 2 sigma^2 p^2); square of half width a: erf(a/(sigma p sqrt
/// 2))^2; disc of radius R with the beam off its middle: non-central chi-square of two degrees of
/// freedom. Tolerance: five standard errors of the trace; 7e-4 for the square.
inline constexpr const char* k_gaussian_disc_source =
    "Stine & Geyer, Power From The Sun, ch. 8; Rayleigh distribution: Gaussian beam in a disc";
inline constexpr const char* k_gaussian_square_source =
    "Stine & Geyer, Power From The Sun, app. G; error function: Gaussian beam in a square";
inline constexpr const char* k_gaussian_offset_source =
    "Rice distribution (non-central chi-square): Gaussian beam beside a disc's middle";
inline constexpr std::array<std::array<double, 2>, 6> k_gaussian_disc = {
    {{1, .393469}, {1.5, .675348}, {2, .864665}, {2.5, .956063}, {3, .988891}, {4, .999665}}};
inline constexpr std::array<std::array<double, 2>, 3> k_gaussian_square = {
    {{1, .466065}, {2, .911070}, {3, .994608}}};
/// (offset / sigma, radius / sigma, share)
inline constexpr std::array<std::array<double, 3>, 9> k_gaussian_offset = {{{0.5, 1, .357286},
                                                                            {0.5, 2, .830859},
                                                                            {0.5, 3, .982156},
                                                                            {1, 1, .267120},
                                                                            {1, 2, .730988},
                                                                            {1, 3, .956284},
                                                                            {2, 1, .081892},
                                                                            {2, 2, .396499},
                                                                            {2, 3, .785638}}};

}  // namespace references
