// Closed forms and benchmarks of mirrors that concentrate: outside values.
#pragma once

#include <array>

namespace references {

/// Paraboloid with a flat receiver at its focus under an even sun of 4.65 mrad, by rim angle (deg):
/// peak concentration sin^2(phi)/sin^2(t) and receiver over aperture diameter that catches every
/// edge ray, sin t / (sin phi cos(phi + t)).
/// Peak tolerance 0.3 %: the standard error of counting in a small disc.
inline constexpr const char* k_focus_source =
    "Duffie & Beckman ch. 7; Stine & Geyer, Power From The Sun, ch. 8: middle of the focus";
struct FocusRow {
  double rim_angle_deg;
  double peak;
  double diameter_ratio;
};
inline constexpr std::array<FocusRow, 4> k_focus = {{{30, 11562.11, .010768},
                                                     {45, 23124.23, .009344},
                                                     {60, 34686.34, .010826},
                                                     {70, 40838.41, .014656}}};
/// Thermodynamic limit 1/sin^2(4.65 mrad). Source: Welford & Winston, High Collection Nonimaging
/// Optics; Planck's and the second law.
inline constexpr double k_limit_4_65_mrad = 46248.45;

/// Local curvatures of the paraboloid z = r^2/4f at f = 1: radii along and across the meridian.
/// Tolerance 1e-9, the rounding of the table.
inline constexpr const char* k_paraboloid_radii_source =
    "differential geometry, R_t = 2f/cos^3 i, R_s = 2f/cos i, tan i = r/2f: paraboloid's radii";
inline constexpr std::array<std::array<double, 3>, 4> k_paraboloid_radii = {
    {{.2, 2.030074875, 2.009975124},
     {.5, 2.190399864, 2.061552813},
     {.8, 2.498716471, 2.154065923},
     {1, 2.795084972, 2.236067977}}};

/// Spherical facet, width 100 mm, R = 2p, p = 1 m, collimated light at incidence i: rms of the spot
/// in the tangential and the sagittal direction, mm.
/// Coddington's equations give w (1 - cos i) for the whole width of both. Tolerance 1 % : the
/// square grid of rays of the source; QMC error is 0.1 %.
inline constexpr const char* k_sphere_off_axis_source =
    "exact rays by a separate program; Born & Wolf, Principles of Optics, 4.6: sphere off axis";
inline constexpr std::array<std::array<double, 3>, 4> k_sphere_off_axis = {
    {{10, .4600, .4378}, {15, 1.0068, .9848}, {22.5, 2.2238, 2.2028}, {30, 3.8983, 3.8786}}};

/// Paraboloid f = 1 m, sun 1 mrad off: shift of the image from the zone at angle phi, mm, in the
/// plane of the zone (mean of both sides) and across it: eps p / cos(phi), eps p.
/// Tolerance 1e-5 relative: second order of 1 mrad cancels in the mean.
inline constexpr const char* k_tracking_shift_source =
    "reflection at the zone, p = 2f/(1 + cos phi): tracking error";
inline constexpr std::array<std::array<double, 3>, 3> k_tracking_shift = {
    {{30, 1.23760, 1.07180}, {45, 1.65685, 1.17157}, {60, 2.66667, 1.33333}}};

/// Two-mirror telescopes: primary focal length and diameter, magnification, back focus behind the
/// primary's vertex, then height ratio, separation, radius and conic constant of the secondary, the
/// meeting of the primary's edge ray with it, and the half angles before and after (deg).
/// Tolerance 1e-6, the rounding of the table.
inline constexpr const char* k_two_mirrors_source =
    "Rutten & van Venrooij, Telescope Optics, ch. 21; Hannan, IRE Trans. AP-9 (1961) 140: "
    "Cassegrain and Gregory";
struct TwoMirror {
  bool is_gregory;
  double f1, d1, m, b;
  double k, separation, r2, k2;
  double edge_x, edge_z;
  double phi_deg, phi2_deg;
};
inline constexpr std::array<TwoMirror, 4> k_two_mirrors = {{
    {false, 1, 1.2, 4, .2, .24, .76, .64, -2.777778, .14731458, .77657289, 33.398488, 8.578307},
    {true, 1, 1.2, 4, .2, .40, 1.4, .64, -.36, .23471883, 1.35599022, 33.398488, 8.578307},
    {false, .6, 1, 3, .1, .291667, .425, .525, -4, .15479115, .44649877, 45.239730, 15.814325},
    {true, .6, 1, 3, .1, .583333, .95, .525, -.25, .27571116, .87341357, 45.239730, 15.814325},
}};

/// Facets on a flat frame, focus 1.5 m above it: tilt (deg) and distance for facets at r.
/// Tolerance 1e-6 deg.
inline constexpr const char* k_flat_frame_source =
    "reflection, tilt = atan(r/f)/2: facets on a flat frame";
inline constexpr std::array<std::array<double, 3>, 4> k_flat_frame = {{{.3, 5.654966, 1.529706},
                                                                       {.6, 10.900705, 1.615549},
                                                                       {.9, 15.481878, 1.749286},
                                                                       {1.2, 19.329904, 1.920937}}};
/// Centres of facets 0.1 m wide that just do not block each other, starting at 0.6 m.
/// Source: gap = (w/2)(sin b1 + sin b2) tan(2 b2); Mathur, Kandpal & Negi, Energy Conversion and
/// Management 31 (1991). Rounded to 1 um.
inline constexpr std::array<double, 5> k_unblocked_centres = {.6, .707504, .817430, .930118,
                                                              1.045908};

/// Flat round facet of radius b (mm) at 1 m, sun 4.65 mrad: flux at s (mm) from the middle, in
/// suns. Tolerance 0.8 % and counting: in a disc of 0.25 to 40 mm.
inline constexpr const char* k_flat_disc_source =
    "lens of two circles, the facet before the sun's disc: flat round facet";
inline constexpr std::array<std::array<double, 3>, 6> k_flat_disc = {{{50, 0, 1},
                                                                      {50, 46, .967905},
                                                                      {50, 50, .490130},
                                                                      {3, 0, .416233},
                                                                      {3, 2, .401017},
                                                                      {4.65, 4.65, .391002}}};
/// Flat square facet of 100 mm at 1 m: power within its own square,
/// 1 - 8A/(3 pi w) + A^2/(2 pi w^2). Exact to second order of A/p.
inline constexpr const char* k_flat_square_source =
    "disc convolved with a square, mean overlap 1 - 8A/(3 pi w) + A^2/(2 pi w^2)";
inline constexpr double k_flat_square_share = .960874;

/// Whole faceted dish: f 1 m, 7 x 7 grid of 110 mm without its centre, 48 facets of 100 x 100 mm on
/// the paraboloid, each aimed at the focus, its x along the projection of the dish's x; sun
/// 4.65 mrad, no losses, no shading. Collected area (m2); flat facets: sigma (mm), shares within
/// 10..80 mm, concentration at the middle; spheres of R = 2p: sigma, shares within 2.5 and 5 mm.
/// Tolerances: area 1e-5, sigma 0.2 %, shares 1e-3 (their quadrature's own), concentration 0.3 %
/// (counting).
inline constexpr const char* k_faceted_source =
    "separate ray trace by quadrature: dish of 48 facets";
inline constexpr double k_faceted_area_m2 = 0.474212;
inline constexpr double k_faceted_flat_sigma_mm = 29.527;
inline constexpr std::array<std::array<double, 2>, 7> k_faceted_flat = {{{10, .03028},
                                                                         {20, .12111},
                                                                         {30, .27250},
                                                                         {40, .48445},
                                                                         {50, .75176},
                                                                         {60, .93523},
                                                                         {70, .99540}}};
inline constexpr double k_faceted_flat_centre = 45.7044;
inline constexpr double k_faceted_sphere_sigma_mm = 2.4867;
inline constexpr std::array<std::array<double, 2>, 2> k_faceted_sphere = {
    {{2.5, .2628}, {5, .9469}}};

}  // namespace references
