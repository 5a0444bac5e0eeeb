// Spectra and reflectances of mirrors: outside values.
#pragma once

#include <array>

#include "dish/coating.h"

namespace references {

/// Direct and circumsolar sunlight, 280 to 4000 nm: the trapezoid integral of the 2002 rows.
inline constexpr const char* k_g173_source = "ASTM G173-03, direct and circumsolar, 2002 rows";
/// Tolerance 0.01 W/m2, the rounding of the reduced table.
inline constexpr double k_g173_direct_W_m2 = 900.139;
/// Share of it in 280..400, 400..700, 700..1100, 1100..2500, 2500..4000 nm. Same rows. Tolerance
/// 0.006: the reduced table's steps straddle the limits by half a step, 5 to 125 nm.
inline constexpr std::array<std::array<double, 3>, 5> k_g173_bands = {{{280, 400, .03391},
                                                                       {400, 700, .41640},
                                                                       {700, 1100, .33892},
                                                                       {1100, 2500, .20206},
                                                                       {2500, 4000, .00872}}};

/// Bare metals over that spectrum, at normal incidence: R = |(n-1-ik)/(n+1-ik)|^2 summed over all
/// 2002 rows, and handbook measurements of fresh evaporated films weighted by the same spectrum.
/// Tolerances: 2e-4 (the reduction of the spectrum to 94 nodes, 1.2e-4 for silver); 0.006 against
/// the films, what data sets differ by.
inline constexpr const char* k_metals_source =
    "Ag Yang et al., PRB 91 (2015) 235137; Al Rakic, Appl. Opt. 34 (1995) 4755; Au Olmon et al., "
    "PRB 86 (2012) 235147; Cu Babar & Weaver, Appl. Opt. 54 (2015) 477: bare metals over sunlight";
inline constexpr const char* k_films_source =
    "Hass, in: American Institute of Physics Handbook (values from memory): evaporated films";
struct MetalRow {
  dish::Metal metal;
  double solar;
  double film;
};
inline constexpr std::array<MetalRow, 4> k_metals = {{{dish::Metal::silver, .98192, .9817},
                                                      {dish::Metal::aluminium, .92156, .9202},
                                                      {dish::Metal::gold, .85575, .8519},
                                                      {dish::Metal::copper, .87168, .8669}}};

/// Bare metals at 405, 450, 532, 550, 632.8, 650 and 850 nm, from the same constants in full.
/// Tolerance 1.5e-3: n and k linear between nodes 10 or 20 nm apart (gold's edge at 532 nm is the
/// worst).
inline constexpr const char* k_at_laser_source =
    "the optical constants of Yang, Rakic, Olmon, Babar & Weaver: bare metals at laser lines";
inline constexpr std::array<double, 7> k_laser_nm = {405, 450, 532, 550, 632.8, 650, 850};
inline constexpr std::array<std::array<double, 7>, 4> k_at_laser = {
    {{.960, .9734, .9828, .9839, .9871, .9875, .9900},
     {.9237, .9219, .9165, .9154, .9078, .9056, .8699},
     {.387, .3836, .7600, .8381, .9501, .9577, .9832},
     {.479, .5408, .5962, .6561, .9731, .9766, .9920}}};

/// Second surfaces, no interference: r1 of n = 1.49, then stacks of (r2, tau).
/// R = r1 + (1-r1)^2 tau^2 r2 / (1 - r1 r2 tau^2). Tolerance 1e-6.
inline constexpr const char* k_stacks_source =
    "Born & Wolf 1.5 with the geometric series of the reflections: second surface";
inline constexpr double k_acrylic_front = .0387252;
inline constexpr std::array<std::array<double, 3>, 2> k_stacks = {
    {{.9, 1.0, .900401}, {.95, .98, .912688}}};

/// Solar-weighted second surfaces on silver and aluminium, from all 2002 rows, and at 650 nm.
/// Tolerance 3e-3, the reduced table across PMMA's narrow infrared bands; 1e-3 at 650 nm.
inline constexpr const char* k_covered_source =
    "PMMA Zhang et al., Appl. Opt. 59 (2020) 2337; low-iron glass Rubin, Sol. Energy Mater. 12 "
    "(1985) 275: silver and aluminium behind covers";
struct StackRow {
  dish::Cover cover;
  double thickness_mm;
  double silver;
  double aluminium;
  double silver_650;
  double aluminium_650;
};
inline constexpr std::array<StackRow, 8> k_covered = {{
    {dish::Cover::acrylic, .1, .951, .863, .9820, .8652},
    {dish::Cover::acrylic, 2, .893, .807, .9707, .8553},
    {dish::Cover::acrylic, 3, .874, .790, .9648, .8501},
    {dish::Cover::acrylic, 5, .845, .762, .9531, .8400},
    {dish::Cover::glass, 1, .9595, .8699, .9756, .8575},
    {dish::Cover::glass, 3, .9321, .8444, .9622, .8459},
    {dish::Cover::glass, 4, .9199, .8332, .9556, .8401},
    // The same glass so thin that only its index counts; between the lossless covers of n 1.49.
    {dish::Cover::glass, .001, .9772, .8885, .9826, .8657},
}};

/// The refractive index of PMMA, n^2 = 1 + 1.1819 L^2 / (L^2 - 0.011313), L in um.
inline constexpr const char* k_pmma_index_source =
    "Sultanova, Kasarova & Nikolov, Acta Physica Polonica A 116 (2009) 585: index of PMMA";
/// Tolerance 4e-3 against the other sample of the table.
inline constexpr std::array<std::array<double, 2>, 3> k_pmma_index = {
    {{590, 1.490536}, {650, 1.488092}, {1000, 1.481696}}};

/// Handbook ranges of new mirrors, solar hemispherical: low, high.
/// Source: SERI/NREL TP-255-2091 (1983), abstract: aluminium mirrors up to about 0.85 in use,
/// polymer-coated silver up to 0.96; 4 mm low-iron silvered glass 0.93 to 0.945 (value from
/// memory).
inline constexpr double k_most_polymer_silver = .96;

}  // namespace references
