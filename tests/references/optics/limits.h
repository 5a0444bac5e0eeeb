// Limits of concentration, in closed form and as textbooks print them: outside values.
#pragma once

#include <array>

namespace references {

/// The most a trough and a dish can do under an even sun of half angle t: 1/sin t and 1/sin^2 t.
/// The textbooks' "about 212 and 45 000" is the row of 0.27 degrees (value from memory).
/// Tolerance: half a unit of the last digit.
inline constexpr const char* k_limits_source =
    "second law; Winston, Minano & Benitez, Nonimaging Optics, ch. 1: limits";
struct LimitRow {
  bool in_degrees;
  double half_angle;  ///< degrees or mrad
  double trough;      ///< 0: the source gives none
  double trough_rounding;
  double dish;
  double dish_rounding;
};
inline constexpr std::array<LimitRow, 8> k_limits = {{{false, 4.65, 215.055, 5e-4, 46248.45, 5e-3},
                                                      {true, .265, 216.211, 5e-4, 46747.3, .05},
                                                      {true, .267, 214.592, 5e-4, 46049.6, .05},
                                                      {true, .27, 212.207, 5e-4, 45032, .5},
                                                      {false, 5, 200.001, 5e-4, 40000.3, .05},
                                                      {false, 10, 0, 0, 10000.33, 5e-3},
                                                      {true, .5, 0, 0, 13131.6, .05},
                                                      {true, 1, 0, 0, 3283.1, .05}}};

/// Paraboloid by rim angle (deg), even sun of 4.65 mrad: flat receiver that catches every edge ray,
/// its diameter over the aperture's, spherical receiver, middle of the focus; and the flat receiver
/// under 10 mrad. The source's form takes one more off where the receiver shades itself.
/// Tolerance: half a unit of the last digit.
inline constexpr const char* k_by_rim_source =
    "Duffie & Beckman, Solar Engineering of Thermal Processes, ch. 7; Winston, Minano & Benitez, "
    "ch. 2: receivers by rim angle";
struct RimRow {
  double rim_deg;
  double flat;
  double diameter_ratio;
  double ball;
  double focus;
  double flat_10_mrad;
};
inline constexpr std::array<RimRow, 9> k_by_rim = {
    {{10, 1350.26, .027214, 348.64, 1394.56, 291.39},
     {20, 4760.93, .014493, 1352.51, 5410.04, 1025.37},
     {30, 8624.90, .010768, 2890.53, 11562.11, 1853.29},
     {40, 11125.90, .009481, 4777.19, 19108.75, 2383.94},
     {45, 11454.59, .009344, 5781.06, 23124.23, 2450.09},
     {50, 11089.29, .009496, 6784.93, 27139.71, 2367.01},
     {60, 8532.28, .010826, 8671.59, 34686.34, 1810.49},
     {70, 4655.80, .014656, 10209.60, 40838.41, 976.89},
     {80, 1282.09, .027928, 11213.47, 44853.89, 260.20}}};

/// The greatest of the flat receiver, [(1 - sin t) / (2 sin t)]^2 at phi = 45 deg - t/2: half angle
/// (mrad, or degrees), value. Tolerance: half a unit of the last digit.
inline constexpr const char* k_greatest_flat_source =
    "Duffie & Beckman, ch. 7; Winston, Minano & Benitez, ch. 2: greatest flat receiver";
inline constexpr std::array<std::array<double, 3>, 4> k_greatest_flat = {
    {{0, 4.65, 11454.836}, {1, .267, 11405.35}, {1, .5, 3225.84}, {0, 10, 2450.33}}};
inline constexpr double k_greatest_flat_rim_deg = 44.8668;  ///< of 4.65 mrad

/// Paraboloid with an ideal second stage of acceptance phi, cos^2(phi + t) / sin^2(t), 4.65 mrad.
/// Tolerance: half a last digit.
inline constexpr const char* k_two_stage_source =
    "Welford & Winston, High Collection Nonimaging Optics, ch. 4: dish with a second stage";
inline constexpr std::array<std::array<double, 2>, 4> k_two_stage = {
    {{20, 40699.4}, {30, 34499.6}, {40, 26927.7}, {45, 22909.2}}};

/// Compound parabolic concentrator of exit radius 1: acceptance (deg), concentration, entrance
/// radius, length. Tolerance: half a unit of the last digit.
inline constexpr const char* k_ideal_cones_source = "Welford & Winston, ch. 4: ideal cones";
inline constexpr std::array<std::array<double, 4>, 3> k_ideal_cones = {
    {{30, 4, 2, 5.196152}, {45, 2, 1.414214, 2.414214}, {60, 1.333333, 1.154701, 1.244017}}};

/// Area of a paraboloid's surface, (8 pi f^2 / 3) [(1 + u^2)^1.5 - 1], u = D / 4f: f, D, area.
/// Tolerance 2e-6 relative: our quadrature in r^2 over a dish as deep as these; 1e-4 for the last,
/// which is deeper than its focal length.
inline constexpr const char* k_paraboloid_areas_source =
    "surfaces of revolution (any table of integrals): area of a paraboloid";
inline constexpr std::array<std::array<double, 3>, 4> k_paraboloid_areas = {
    {{1, 2, 3.3304441422}, {.6, 1, .8185594192}, {1.2, 2, 3.2742376767}, {1, 4, 15.3177952606}}};

}  // namespace references
