// The trace's kernel: rays a second on one core for each number of lanes, against one ray after
// another in double from the same source; how the cost grows with the number of facets. Runs
// natively and, with -sINITIAL_MEMORY alike, under node.
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <vector>

#include "bench/clock.h"
#include "optics/chunk_tracer.h"
#include "support/speed_scenes.h"

namespace {

struct Case {
  const char* name;
  support::SpeedScene scene;
};

constexpr Case k_cases[] = {{"dish", support::SpeedScene::dish},
                            {"flat frame", support::SpeedScene::flat_frame},
                            {"two mirrors", support::SpeedScene::two_mirror}};

optics::Scene scene_of(const Case& one, std::size_t facets) {
  return optics::make_scene(support::speed_scene(one.scene, facets), {}).value();
}

/// All chunks once; the sums are kept so that no work is in vain.
double g_kept = 0.0;
void trace(const optics::Scene& scene, std::uint64_t rays, int lanes, bool in_double) {
  const optics::TraceSettings settings{.rays = rays, .lanes = lanes, .in_double = in_double};
  const auto chunks = optics::plan_trace(scene, settings).chunks();
  g_kept += optics::trace_part(scene, settings, 0, chunks).chunks[0].sum[0];
}

void show_lanes(const Case& one) {
  const std::uint64_t rays = 600'000;
  const optics::Scene scene = scene_of(one, 37);
  const std::uint64_t traced = optics::plan_trace(scene, {.rays = rays}).rays();
  for (const int lanes : {1, 4, 8, 16}) {
    if (!optics::has_lanes(lanes)) continue;
    const auto pair = bench::compare([&] { trace(scene, rays, lanes, false); },
                                     [&] { trace(scene, rays, 0, true); });
    const double rate = static_cast<double>(traced) / pair.first_s;
    std::printf("%-12s 37 facets, %2d lanes: %6.1f Mray/s, %5.2f times double (%.1f)", one.name,
                lanes, 1e-6 * rate, pair.ratio, 1e-6 * static_cast<double>(traced) / pair.second_s);
    std::printf("\n");
  }
}

void show_growth(const Case& one, int lanes) {
  const std::uint64_t each = 8192;
  const optics::Scene small = scene_of(one, 37);
  const optics::Scene large = scene_of(one, 1000);
  const auto pair = bench::compare([&] { trace(small, 27 * 37 * each, lanes, false); },
                                   [&] { trace(large, 1000 * each, lanes, false); }, 5);
  std::printf("%-12s a ray at 1000 facets costs %.3f of one at 37 (%d lanes)\n", one.name,
              pair.ratio * (27.0 * 37.0) / 1000.0, lanes);
}

}  // namespace

int main(int argc, char** argv) {
  // For counting instructions: one trace and nothing else.
  if (argc == 5 && std::strcmp(argv[1], "only") == 0) {
    const optics::Scene scene =
        scene_of(k_cases[std::atoi(argv[2])], std::strtoul(argv[3], nullptr, 10));
    const std::uint64_t rays = std::strtoull(argv[4], nullptr, 10);
    trace(scene, rays, optics::has_lanes(8) ? 8 : 4, false);
    std::printf("%llu rays\n",
                static_cast<unsigned long long>(optics::plan_trace(scene, {.rays = rays}).rays()));
    return 0;
  }
  for (const Case& one : k_cases) show_lanes(one);
  const int lanes = optics::widest_lanes();
  for (const Case& one : k_cases) show_growth(one, lanes);
  std::printf("(%g)\n", g_kept);
}
