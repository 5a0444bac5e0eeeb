// How far the quick evaluation is from the full trace, on the scenes of speed: with enough rays
// that what is left of their noise does not matter.
#include <cstdio>
#include <cstdlib>
#include <string>
#include <thread>

#include "support/light_difference.h"
#include "support/speed_scenes.h"

namespace {

using support::SpeedOptions;
using support::SpeedScene;

struct Case {
  const char* name;
  SpeedScene scene;
  SpeedOptions options;
};

}  // namespace

/// Arguments: the number of rays (100 million), of facets (37), and a scene's name (all).
int main(int count, char** words) {
  const double rays = count > 1 ? std::strtod(words[1], nullptr) : 1e8;
  const std::size_t facets = count > 2 ? std::strtoul(words[2], nullptr, 10) : 37;
  const std::string wanted = count > 3 ? words[3] : "";
  const int workers = static_cast<int>(std::thread::hardware_concurrency());
  const Case cases[] = {
      {"dish", SpeedScene::dish, {}},
      {"dish 0.5 mrad", SpeedScene::dish, {.slope_error_rad = 0.0005}},
      {"flat frame", SpeedScene::flat_frame, {}},
      {"two mirrors", SpeedScene::two_mirror, {}},
      {"two mirrors 0.5 mrad", SpeedScene::two_mirror, {.slope_error_rad = 0.0005}},
      {"flat facets", SpeedScene::dish, {.is_flat = true}},
      {"flat, two mirrors", SpeedScene::two_mirror, {.is_flat = true}}};
  std::printf("%zu facets, %.3g rays; of the peak\n", facets, rays);
  for (const Case& one : cases) {
    if (!wanted.empty() && wanted != one.name) continue;
    const auto off = support::light_difference(support::speed_scene(one.scene, facets, one.options),
                                               static_cast<std::uint64_t>(rays), workers);
    std::printf(
        "%-22s worst %.3f %%  (noise %.3f %%, beyond it %.3f %%)  rms %.4f %%  intercept %.4f %%  "
        "centroid %.2f um\n",
        one.name, 100.0 * off.worst_of_peak, 100.0 * off.noise_of_peak,
        100.0 * off.worst_beyond_noise, 100.0 * off.rms_of_peak, 100.0 * off.intercept,
        1e6 * off.centroid_m);
    std::fflush(stdout);
  }
}
