// Reflectances from optical constants and the standard spectrum. Sources and raw numbers stand in
// references/optics/reflectances.h.
#include "optics/coating.h"

#include <cmath>

#include <fmt/format.h>

#include "light_scenes.h"
#include "references/optics/reflectances.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using dish::Coating;
using dish::Cover;
using dish::Metal;
using support::check_outside;
using support::OutsideCheck;

constexpr Metal k_order[] = {Metal::silver, Metal::aluminium, Metal::gold, Metal::copper};
constexpr const char* k_metal_names[] = {"silver", "aluminium", "gold", "copper"};

}  // namespace

TEST_CASE("the built-in spectrum is ASTM G173 direct, in sum and in bands") {
  double total = 0.0;
  for (const auto& node : optics::solar_spectrum()) total += node.weight_W_m2;
  constexpr double total_pin = 900.142828425;
  constexpr double band_pins[5] = {0.0347057863774, 0.415596101182, 0.339906168597, 0.200627660741,
                                   0.00863146020237};
  check_outside({.what = "sunlight, W/m2",
                 .source = references::k_g173_source,
                 .outside = references::k_g173_direct_W_m2,
                 .ours = total,
                 .tolerance = 0.01,
                 .why = "rounding of the reduced table",
                 .pin = total_pin});
  CHECK(optics::solar_spectrum().size() == 94);
  for (std::size_t k = 0; k < references::k_g173_bands.size(); ++k) {
    const auto& [from, to, share] = references::k_g173_bands[k];
    double band = 0.0;
    for (const auto& node : optics::solar_spectrum()) {
      // A node on the limit belongs to both sides by half.
      const bool is_end = node.wavelength_nm == from || node.wavelength_nm == to;
      if (node.wavelength_nm < from || node.wavelength_nm > to) continue;
      band += (is_end ? 0.5 : 1.0) * node.weight_W_m2;
    }
    check_outside({.what = fmt::format("share of sunlight, {} to {} nm", from, to),
                   .source = references::k_g173_source,
                   .outside = share,
                   .ours = band / total,
                   .tolerance = 0.002,
                   .why = "the reduced table straddles the limits by half a step",
                   .pin = band_pins[k]});
  }
}

TEST_CASE("bare silver, aluminium, gold and copper over sunlight") {
  constexpr double pins[4] = {0.982035994122, 0.921570004486, 0.855770605082, 0.871705756262};
  for (std::size_t k = 0; k < references::k_metals.size(); ++k) {
    const references::MetalRow& row = references::k_metals[k];
    check_outside({.what = std::string("bare ") + k_metal_names[k] + " over sunlight",
                   .source = references::k_metals_source,
                   .outside = row.solar,
                   .ours = optics::solar_reflectance({row.metal}),
                   .tolerance = 2e-4,
                   .why = "the spectrum's reduction to 94 nodes",
                   .pin = pins[k]});
    check_outside({.what = std::string("film of ") + k_metal_names[k],
                   .source = references::k_films_source,
                   .outside = row.film,
                   .ours = optics::solar_reflectance({row.metal}),
                   .tolerance = 0.006,
                   .why = "what data sets differ by",
                   .pin = pins[k]});
  }
}

TEST_CASE("bare metals at laser lines") {
  constexpr double pins[4][7] = {{0.959994066744, 0.973379790654, 0.982826923829, 0.983927067184,
                                  0.987124854187, 0.987550808944, 0.99003837725},
                                 {0.923709804711, 0.921859618272, 0.916487928613, 0.915376742119,
                                  0.907764118293, 0.905601943025, 0.869927441082},
                                 {0.386833318015, 0.383572263641, 0.759989417265, 0.838055559765,
                                  0.950087022523, 0.957741407118, 0.983207608527},
                                 {0.478791949647, 0.54075556606, 0.597005201549, 0.656139424931,
                                  0.973088231428, 0.976599852019, 0.991980098776}};
  for (std::size_t metal = 0; metal < 4; ++metal) {
    for (std::size_t line = 0; line < references::k_laser_nm.size(); ++line) {
      const double nm = references::k_laser_nm[line];
      check_outside({.what = fmt::format("bare {} at {} nm", k_metal_names[metal], nm),
                     .source = references::k_at_laser_source,
                     .outside = references::k_at_laser[metal][line],
                     .ours = optics::reflectance_at({k_order[metal]}, nm),
                     .tolerance = 1.5e-3,
                     .why = "n and k linear between nodes 10 or 20 nm apart",
                     .pin = pins[metal][line]});
    }
  }
}

TEST_CASE("a boundary and a covered metal") {
  constexpr double front_pin = 0.0387251818519;
  constexpr double stack_pins[2] = {0.900401236155, 0.912688192694};
  constexpr double index_pins[3] = {1.4927, 1.4904, 1.4836};
  OutsideCheck check{.source = references::k_stacks_source, .why = support::k_half_digit};
  check.what = "front of acrylic";
  check.outside = references::k_acrylic_front;
  check.ours = optics::boundary_reflectance({1.0, 0.0}, {1.49, 0.0}).within;
  check.tolerance = 1e-7;
  check.pin = front_pin;
  check_outside(check);
  for (std::size_t k = 0; k < references::k_stacks.size(); ++k) {
    const auto& [r2, tau, whole] = references::k_stacks[k];
    check.what = fmt::format("metal of {} behind {}", r2, tau);
    check.outside = whole;
    check.ours = optics::covered_reflectance(references::k_acrylic_front, r2, tau);
    check.tolerance = 1e-6;
    check.pin = stack_pins[k];
    check_outside(check);
  }
  for (std::size_t k = 0; k < references::k_pmma_index.size(); ++k) {
    const auto& [wavelength, index] = references::k_pmma_index[k];
    for (const auto& node : optics::solar_spectrum()) {
      if (node.wavelength_nm != wavelength) continue;
      check_outside({.what = fmt::format("index of acrylic at {} nm", wavelength),
                     .source = references::k_pmma_index_source,
                     .outside = index,
                     .ours = node.acrylic.n,
                     .tolerance = 4e-3,
                     .why = "another sample of acrylic",
                     .pin = index_pins[k]});
    }
  }
}

TEST_CASE("silver and aluminium behind acrylic and glass") {
  constexpr double pins[8][4] = {{0.953749125855, 0.86549524084, 0.982003334445, 0.865143394542},
                                 {0.895253067329, 0.809343859898, 0.970692435687, 0.85528003612},
                                 {0.876025867998, 0.791069457013, 0.964795955536, 0.850137730085},
                                 {0.846188930313, 0.762909671302, 0.953118809104, 0.839953223792},
                                 {0.959589713719, 0.869942476579, 0.975565941845, 0.857498334446},
                                 {0.932265729778, 0.844491224298, 0.962192443078, 0.845878181975},
                                 {0.920056129145, 0.833269302842, 0.955580701491, 0.840132630453},
                                 {0.977081863504, 0.886658654909, 0.98232172471, 0.863367725529}};
  for (std::size_t k = 0; k < references::k_covered.size(); ++k) {
    const references::StackRow& row = references::k_covered[k];
    const Coating silver{Metal::silver, row.cover, 1e-3 * row.thickness_mm};
    const Coating aluminium{Metal::aluminium, row.cover, 1e-3 * row.thickness_mm};
    const std::string cover = fmt::format("{} mm of {}", row.thickness_mm,
                                          row.cover == Cover::acrylic ? "acrylic" : "glass");
    // Glass of no thickness has an index of 1.51 to 1.53, not 1.49.
    const double slack = row.thickness_mm < 0.01 ? 0.004 : 0.003;
    const auto check = [&](const char* what, double outside, double ours, double tolerance,
                           double pin) {
      check_outside({.what = what + cover,
                     .source = references::k_covered_source,
                     .outside = outside,
                     .ours = ours,
                     .tolerance = tolerance,
                     .why = "the reduced table across narrow bands",
                     .pin = pin});
    };
    check("silver behind ", row.silver, optics::solar_reflectance(silver), slack, pins[k][0]);
    check("aluminium behind ", row.aluminium, optics::solar_reflectance(aluminium), slack,
          pins[k][1]);
    check("silver behind, at 650 nm, ", row.silver_650, optics::reflectance_at(silver, 650.0), 1e-3,
          pins[k][2]);
    check("aluminium behind, at 650 nm, ", row.aluminium_650,
          optics::reflectance_at(aluminium, 650.0), slack, pins[k][3]);
  }
  CHECK(optics::solar_reflectance({Metal::silver, Cover::acrylic, 1e-4}) <
        references::k_most_polymer_silver);
}

// Closed forms: at Brewster's angle, tan = n, nothing of p is reflected and ((n^2 - 1) / (n^2 +
// 1))^2 of s; at 45 degrees what is reflected of p is the square of s, for any index (Abeles' law);
// Born & Wolf, Principles of Optics, 1.5.2 and 1.5.3. Along the glass all is reflected.
TEST_CASE("a boundary at an incidence") {
  const optics::Index air;
  for (const double n : {1.3, 1.5, 2.4}) {
    const auto brewster = optics::boundary_reflectance(air, {n, 0.0}, 1.0 / std::hypot(1.0, n));
    CHECK(brewster.within < 1e-28);
    CHECK(brewster.across ==
          doctest::Approx(std::pow((n * n - 1.0) / (n * n + 1.0), 2.0)).epsilon(1e-12));
  }
  const optics::Index indices[] = {{1.5, 0.0}, {0.05, 4.0}, {1.0, 6.0}, {3.0, 2.0}};
  for (const optics::Index& to : indices) {
    const auto oblique = optics::boundary_reflectance(air, to, std::sqrt(0.5));
    CHECK(oblique.within == doctest::Approx(oblique.across * oblique.across).epsilon(1e-12));
    const auto square_on = optics::boundary_reflectance(air, to);
    const double n2 = (1.0 - to.n) * (1.0 - to.n);
    const double k2 = to.k * to.k;
    CHECK(square_on.within ==
          doctest::Approx((n2 + k2) / ((1.0 + to.n) * (1.0 + to.n) + k2)).epsilon(1e-12));
    CHECK(square_on.across == doctest::Approx(square_on.within).epsilon(1e-12));
    CHECK(optics::boundary_reflectance(air, to, 1e-9).across == doctest::Approx(1.0));
  }
}

TEST_CASE("sunlight at an incidence") {
  // A clear cover's longer way: Beer's law alone explains what 3 mm of glass lose at 30 degrees
  // but for the fronts' 0.001.
  const Coating bare{Metal::silver};
  const Coating glass{Metal::silver, Cover::glass, 0.003};
  const double thirty = std::sqrt(0.75);
  CHECK(std::abs(optics::solar_reflectance(bare, thirty) - optics::solar_reflectance(bare)) < 1e-3);
  const double longer = 0.003 / std::sqrt(1.0 - 0.25 / (1.52 * 1.52));
  const double by_length = optics::solar_reflectance({Metal::silver, Cover::glass, longer});
  CHECK(std::abs(optics::solar_reflectance(glass, thirty) - by_length) < 1e-3);
  CHECK(by_length < optics::solar_reflectance(glass) - 0.002);
  const optics::MirrorReflectance mirror(0.5, glass, 0.9);
  double worst = 0.0;
  for (double degrees = 0.0; degrees <= 60.0; degrees += 1.5) {
    const double cosine = std::cos(base::rad_from_deg(degrees));
    worst = std::max(worst,
                     std::abs(mirror.at(cosine) - 0.9 * optics::solar_reflectance(glass, cosine)));
  }
  CHECK(worst < 2e-5);
  CHECK(mirror.at(0.0) > 0.0);
  CHECK(optics::MirrorReflectance(0.8, std::nullopt, 0.5).at(0.3) == 0.4);
}

TEST_CASE("facets that lean reflect what their coating does there") {
  dish::Dish dish = light_scenes::oblique_facet(dish::Disc{0.1}, dish::Flat{}, 50.0, 1.0);
  dish.facet_types[0].coating = Coating{Metal::aluminium, Cover::acrylic, 0.003};
  dish.facet_types[0].cleanliness = 1.0;
  const optics::Scene scene = light_scenes::scene_of(dish);
  const double cosine = std::cos(base::rad_from_deg(50.0));
  CHECK(scene.facets[0].reflectance ==
        doctest::Approx(optics::solar_reflectance(*dish.facet_types[0].coating, cosine))
            .epsilon(1e-4));
  CHECK(scene.facets[0].reflectance <
        optics::solar_reflectance(*dish.facet_types[0].coating) - 0.005);
}

TEST_CASE("a mirror's coating and its dirt reach the ledger") {
  dish::Dish dish = light_scenes::oblique_facet(dish::Disc{0.1}, dish::Flat{}, 0.0, 1.0);
  dish.facet_types[0].coating = Coating{Metal::aluminium, Cover::glass, 0.003};
  dish.facet_types[0].cleanliness = 0.9;
  const auto result = light_scenes::traced(dish, {.rays = 4096});
  const double sent = result.power_reflected_W;
  const double lit = result.ledger.incident_W - result.ledger.gaps_W;
  CHECK(
      sent / lit ==
      doctest::Approx(0.9 * optics::solar_reflectance(*dish.facet_types[0].coating)).epsilon(1e-3));
  dish.facet_types[0].coating.reset();
  dish.facet_types[0].reflectance = 0.8;
  CHECK(light_scenes::traced(dish, {.rays = 4096}).power_reflected_W / lit ==
        doctest::Approx(0.72).epsilon(1e-3));
}
