// How far the quick evaluation may be from the full trace, on the scenes of speed: gates without
// noise of their own, since the trace's is known and small.
#include <cmath>

#include "light_scenes.h"
#include "optics/live.h"
#include "support/figures.h"
#include "support/speed_scenes.h"

#include <doctest/doctest.h>

namespace {

using support::SpeedOptions;
using support::SpeedScene;

constexpr int k_cells = 64;

struct Difference {
  double worst_of_peak = 0.0;  ///< over 64 x 64 cells, beyond three deviations of the trace's noise
  double rms_of_peak = 0.0;
  double intercept = 0.0;
  double centroid_m = 0.0;
};

/// Cells hold counts of rays: the noise of a cell is the root of its number of rays, of which the
/// low discrepancy of the points only takes away.
Difference difference(const dish::Dish& dish, std::uint64_t rays) {
  const auto live = optics::evaluate(dish, {.map_cells = k_cells});
  REQUIRE(live.ok());
  const auto& quick = live.value().figures;
  const auto full = light_scenes::traced(dish, {.rays = rays, .map_cells = k_cells, .workers = 2});
  REQUIRE(full.map.flux_W_m2.size() == quick.map.flux_W_m2.size());
  const double cell = full.map.size_m.x / full.map.columns;
  const double ray_W = full.power_reflected_W / static_cast<double>(full.rays);
  double peak = 0.0;
  for (const double flux : full.map.flux_W_m2) peak = std::max(peak, flux);
  Difference found;
  double squares = 0.0;
  for (std::size_t k = 0; k < full.map.flux_W_m2.size(); ++k) {
    const double flux = full.map.flux_W_m2[k];
    const double off = std::abs(quick.map.flux_W_m2[k] - flux);
    const double noise = std::sqrt(std::max(flux, 0.0) * cell * cell * ray_W) / (cell * cell);
    found.worst_of_peak = std::max(found.worst_of_peak, (off - 3.5 * noise) / peak);
    squares += off * off / (peak * peak);
  }
  found.rms_of_peak = std::sqrt(squares / static_cast<double>(full.map.flux_W_m2.size()));
  found.intercept = std::abs(quick.intercept_factor - full.intercept_factor);
  found.centroid_m = glm::distance(quick.centroid_m, full.centroid_m);
  return found;
}

struct Gate {
  const char* name;
  SpeedScene scene;
  SpeedOptions options;
  double worst_of_peak;
  double centroid_m;
};

}  // namespace

// Floors: 0.5 % of the peak for focusing facets, 0.6 % for flat ones at the prime focus, 1.8 % with
// two mirrors; intercept 0.03 %; centroid 1 um where the spot is small. The rays give the middle of
// the flat facets' image, half a metre wide, to some um only.
TEST_CASE("the quick map is the converged one") {
  const Gate gates[] = {
      {"dish", SpeedScene::dish, {}, 0.005, 1e-6},
      {"sharp", SpeedScene::dish, {.slope_error_rad = 0.0005}, 0.005, 1e-6},
      {"flat frame", SpeedScene::flat_frame, {}, 0.005, 1e-6},
      {"two mirrors", SpeedScene::two_mirror, {}, 0.005, 2e-6},
      {"sharp, two mirrors", SpeedScene::two_mirror, {.slope_error_rad = 0.0005}, 0.005, 2e-6},
      {"flat", SpeedScene::dish, {.is_flat = true}, 0.006, 1e-5},
      {"flat, two mirrors", SpeedScene::two_mirror, {.is_flat = true}, 0.018, 2e-5}};
  for (const Gate& gate : gates) {
    CAPTURE(gate.name);
    const auto off = difference(support::speed_scene(gate.scene, 37, gate.options), 4'000'000);
    CHECK(off.worst_of_peak < gate.worst_of_peak);
    CHECK(off.intercept < 3e-4);
    CHECK(off.centroid_m < gate.centroid_m);
    MESSAGE(std::string(gate.name)
            << ": worst beyond noise " << 100.0 * off.worst_of_peak << " %, rms "
            << 100.0 * off.rms_of_peak << " %, intercept " << 100.0 * off.intercept
            << " %, centroid " << 1e6 * off.centroid_m << " um");
  }
}

TEST_CASE("the quick map is the converged one for every sun") {
  dish::Dish dish = support::speed_scene(SpeedScene::dish, 37, {.slope_error_rad = 0.001});
  const dish::SunShape shapes[] = {dish::LimbDarkenedSun{}, dish::GaussianSun{},
                                   dish::CircumsolarSun{0.1}};
  for (const dish::SunShape& shape : shapes) {
    dish.sun.shape = shape;
    const auto off = difference(dish, 2'000'000);
    CHECK(off.worst_of_peak < 0.005);
    CHECK(off.intercept < 3e-4);
    CHECK(off.centroid_m < 2e-6);
  }
}
