// The quick evaluation: how long the whole takes and how long one facet's drag, on the scenes of
// speed. Processor time; best of several.
#include "optics/live.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string>
#include <vector>

#include "optics/canting.h"
#include "optics/scene.h"
#include "support/speed_scenes.h"

namespace {

using support::SpeedOptions;
using support::SpeedScene;

double cpu_ms() { return 1e3 * static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Best of a few repetitions of at least 20 ms each.
template <class Work>
double best_ms(int repetitions, const Work& work) {
  double best = 1e300;
  for (int repetition = 0; repetition < repetitions; ++repetition) {
    const double start = cpu_ms();
    int count = 0;
    do {
      work();
      ++count;
    } while (cpu_ms() - start < 20.0);
    best = std::min(best, (cpu_ms() - start) / count);
  }
  return best;
}

struct Case {
  const char* name;
  SpeedScene scene;
  SpeedOptions options;
};

void report(const Case& one, std::size_t facets) {
  dish::Dish dish = support::speed_scene(one.scene, facets, one.options);
  auto first = optics::evaluate(dish, {});
  if (!first) {
    std::printf("%s: %s\n", one.name, base::to_text(first.problems()).c_str());
    return;
  }
  optics::LiveState state = std::move(first).value();
  // As while a dimension is dragged: the scene anew, then its light; the sun stays.
  const double scene = best_ms(3, [&] {
    state.scene = std::make_shared<const optics::Scene>(optics::make_scene(dish, {}).value());
  });
  const double whole = best_ms(3, [&] { state = optics::evaluate_scene(state.scene, {}, &state); });
  // Half way out, so that it has neighbours on all sides.
  const std::size_t moved = facets / 4;
  dish.facets[moved].normal = optics::nominal_pose(dish, dish.facets[moved]).value().normal;
  const base::Vec3 aimed = *dish.facets[moved].normal;
  int step = 0;
  const double drag = best_ms(3, [&] {
    dish.facets[moved].normal = base::unit(aimed + base::Vec3(1e-4 * (++step % 50), 0.0, 0.0));
    state = optics::reevaluate(std::move(state), dish, moved).value();
  });
  std::printf("%-22s %5zu facets  scene %8.3f ms  light %8.3f ms  drag %7.3f ms  intercept %.5f\n",
              one.name, facets, scene, whole, drag, state.figures.intercept_factor);
  std::fflush(stdout);
}

}  // namespace

/// Arguments: numbers of facets, and names of scenes; without any, those of the study.
int main(int count, char** words) {
  std::vector<std::size_t> sizes;
  std::vector<std::string> names;
  for (int k = 1; k < count; ++k) {
    const std::size_t facets = std::strtoul(words[k], nullptr, 10);
    if (facets > 0) {
      sizes.push_back(facets);
    } else {
      names.emplace_back(words[k]);
    }
  }
  if (sizes.empty()) sizes = {37, 127, 500, 1000, 4000};
  const Case cases[] = {{"dish", SpeedScene::dish, {}},
                        {"dish 0.5 mrad", SpeedScene::dish, {.slope_error_rad = 0.0005}},
                        {"flat frame", SpeedScene::flat_frame, {}},
                        {"two mirrors", SpeedScene::two_mirror, {}},
                        {"flat facets", SpeedScene::dish, {.is_flat = true}},
                        {"flat, two mirrors", SpeedScene::two_mirror, {.is_flat = true}}};
  for (const Case& one : cases) {
    if (!names.empty() && std::find(names.begin(), names.end(), one.name) == names.end()) continue;
    for (const std::size_t facets : sizes) report(one, facets);
  }
}
