// Our trace against the same scenes through a general-purpose ray-tracing library, side by side.
#include <cstdio>

#ifdef FW_RAY_LIBRARY
#include "support/ray_library.h"

#include "bench/clock.h"
#include "optics/chunk_tracer.h"
#include "support/speed_scenes.h"

int main() {
  const struct {
    const char* name;
    support::SpeedScene scene;
  } cases[] = {{"dish", support::SpeedScene::dish},
               {"flat frame", support::SpeedScene::flat_frame},
               {"two mirrors", support::SpeedScene::two_mirror}};
  for (const auto& one : cases) {
    const optics::Scene scene = optics::make_scene(support::speed_scene(one.scene, 37), {}).value();
    ray_library::Tracer library(scene);
    const int each = 32768;
    const double rays = 37.0 * each;
    for (const int lanes : {8, 16}) {
      if (!optics::has_lanes(lanes)) continue;
      const optics::TraceSettings settings{.rays = 37 * each, .lanes = lanes};
      const auto chunks = optics::plan_trace(scene, settings).chunks();
      const auto ours = [&] { optics::trace_part(scene, settings, 0, chunks); };
      const auto packets = bench::compare(ours, [&] { library.trace<8>(each); });
      const auto single = bench::compare(
          ours, [&] { library.trace<1>(each); }, 3);
      std::printf(
          "%-12s ours, %2d lanes: %6.1f Mray/s; the library in packets of 8: %5.2f, %5.1f times "
          "slower; one by one: %5.2f, %5.1f times slower\n",
          one.name, lanes, 1e-6 * rays / packets.first_s, 1e-6 * rays / packets.second_s,
          packets.ratio, 1e-6 * rays / single.second_s, single.ratio);
    }
  }
}
#else
int main() { std::printf("skipped: the package libembree-dev is not installed\n"); }
#endif
