// Reflectances from optical constants and the standard spectrum. Sources, tolerances and their
// reasons stand beside the numbers in references/optics/reflectances.h.
#include "optics/coating.h"

#include <cmath>

#include "light_scenes.h"
#include "references/optics/reflectances.h"

#include <doctest/doctest.h>

namespace {

using dish::Coating;
using dish::Cover;
using dish::Metal;

constexpr Metal k_order[] = {Metal::silver, Metal::aluminium, Metal::gold, Metal::copper};

}  // namespace

TEST_CASE("the built-in spectrum is ASTM G173 direct, in sum and in bands") {
  double total = 0.0;
  for (const auto& node : optics::solar_spectrum()) total += node.weight_W_m2;
  CHECK(std::abs(total - references::k_g173_direct_W_m2) < 0.01);
  CHECK(optics::solar_spectrum().size() == 94);
  for (const auto& [from, to, share] : references::k_g173_bands) {
    double band = 0.0;
    for (const auto& node : optics::solar_spectrum()) {
      // A node on the limit belongs to both sides by half.
      const bool is_end = node.wavelength_nm == from || node.wavelength_nm == to;
      if (node.wavelength_nm < from || node.wavelength_nm > to) continue;
      band += (is_end ? 0.5 : 1.0) * node.weight_W_m2;
    }
    const double low = from;
    CAPTURE(low);
    CHECK(std::abs(band / total - share) < 0.006);
  }
}

TEST_CASE("bare silver, aluminium, gold and copper over sunlight") {
  for (const references::MetalRow& row : references::k_metals) {
    CHECK(std::abs(optics::solar_reflectance({row.metal}) - row.solar) < 2e-4);
    CHECK(std::abs(optics::solar_reflectance({row.metal}) - row.film) < 0.006);
  }
  // Pins on our own result.
  CHECK(std::abs(optics::solar_reflectance({Metal::silver}) - 0.98204) < 1e-5);
  CHECK(std::abs(optics::solar_reflectance({Metal::aluminium}) - 0.92157) < 1e-5);
  CHECK(std::abs(optics::solar_reflectance({Metal::gold}) - 0.85577) < 1e-5);
  CHECK(std::abs(optics::solar_reflectance({Metal::copper}) - 0.87171) < 1e-5);
}

TEST_CASE("bare metals at laser lines") {
  for (std::size_t metal = 0; metal < 4; ++metal) {
    for (std::size_t line = 0; line < references::k_laser_nm.size(); ++line) {
      CAPTURE(metal);
      CAPTURE(references::k_laser_nm[line]);
      CHECK(std::abs(optics::reflectance_at({k_order[metal]}, references::k_laser_nm[line]) -
                     references::k_at_laser[metal][line]) < 1.5e-3);
    }
  }
}

TEST_CASE("a boundary and a covered metal") {
  CHECK(std::abs(optics::boundary_reflectance({1.0, 0.0}, {1.49, 0.0}) -
                 references::k_acrylic_front) < 1e-7);
  for (const auto& [r2, tau, whole] : references::k_stacks) {
    CHECK(std::abs(optics::covered_reflectance(references::k_acrylic_front, r2, tau) - whole) <
          1e-6);
  }
  for (const auto& [wavelength, index] : references::k_pmma_index) {
    for (const auto& node : optics::solar_spectrum()) {
      if (node.wavelength_nm == wavelength) CHECK(std::abs(node.acrylic.n - index) < 4e-3);
    }
  }
}

TEST_CASE("silver and aluminium behind acrylic and glass") {
  for (const references::StackRow& row : references::k_covered) {
    CAPTURE(row.thickness_mm);
    const Coating silver{Metal::silver, row.cover, 1e-3 * row.thickness_mm};
    const Coating aluminium{Metal::aluminium, row.cover, 1e-3 * row.thickness_mm};
    // Glass of no thickness has an index of 1.51 to 1.53, not 1.49.
    const double slack = row.thickness_mm < 0.01 ? 0.004 : 0.003;
    CHECK(std::abs(optics::solar_reflectance(silver) - row.silver) < slack);
    CHECK(std::abs(optics::solar_reflectance(aluminium) - row.aluminium) < slack);
    CHECK(std::abs(optics::reflectance_at(silver, 650.0) - row.silver_650) < 1e-3);
    CHECK(std::abs(optics::reflectance_at(aluminium, 650.0) - row.aluminium_650) < slack);
  }
  // Pins on our own result.
  CHECK(std::abs(optics::solar_reflectance({Metal::silver, Cover::acrylic, 3e-3}) - .8760) < 1e-4);
  CHECK(std::abs(optics::solar_reflectance({Metal::aluminium, Cover::acrylic, 3e-3}) - .7911) <
        1e-4);
  CHECK(std::abs(optics::solar_reflectance({Metal::silver, Cover::acrylic, 1e-4}) - .9538) < 1e-4);
  CHECK(std::abs(optics::solar_reflectance({Metal::silver, Cover::glass, 1e-3}) - .9596) < 1e-4);
  CHECK(std::abs(optics::solar_reflectance({Metal::silver, Cover::glass, 3e-3}) - .9323) < 1e-4);
  CHECK(std::abs(optics::solar_reflectance({Metal::aluminium, Cover::glass, 3e-3}) - .8445) < 1e-4);
  CHECK(optics::solar_reflectance({Metal::silver, Cover::acrylic, 1e-4}) <
        references::k_most_polymer_silver);
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
