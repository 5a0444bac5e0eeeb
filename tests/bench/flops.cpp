// How much of the machine's floating-point rate the trace uses: operations of a ray, counted by
// running the kernel's own source on numbers that count, times rays a second, over the rate of
// nothing but multiplications and additions in registers, measured beside it. Only + - * / and
// square roots count, and only those that a ray needs for itself: work that a whole register does
// because one of its lanes needs it does not.
#include <cstdint>
#include <cstdio>
#include <memory>

#include "bench/clock.h"
#include "optics/chunk_tracer.h"
#include "support/speed_scenes.h"

namespace {

std::uint64_t g_operations = 0;

/// Single precision that counts what is done with it.
struct Counted {
  float value;
  Counted() = default;
  constexpr Counted(float v) : value(v) {}
  constexpr Counted(double v) : value(static_cast<float>(v)) {}
  constexpr Counted(int v) : value(static_cast<float>(v)) {}
  /// Taken by the square root alone.
  operator float() const {
    ++g_operations;
    return value;
  }
  explicit operator std::int32_t() const { return static_cast<std::int32_t>(value); }
  friend Counted operator+(Counted a, Counted b) { return counted(a.value + b.value); }
  friend Counted operator-(Counted a, Counted b) { return counted(a.value - b.value); }
  friend Counted operator*(Counted a, Counted b) { return counted(a.value * b.value); }
  friend Counted operator/(Counted a, Counted b) { return counted(a.value / b.value); }
  friend Counted operator-(Counted a) { return {-a.value}; }
  friend bool operator<(Counted a, Counted b) { return a.value < b.value; }
  friend bool operator<=(Counted a, Counted b) { return a.value <= b.value; }
  friend bool operator>(Counted a, Counted b) { return a.value > b.value; }
  friend bool operator>=(Counted a, Counted b) { return a.value >= b.value; }

 private:
  static Counted counted(float v) {
    ++g_operations;
    return {v};
  }
};
static_assert(sizeof(Counted) == sizeof(float), "scenes of floats are read as scenes of these");

}  // namespace

namespace base {
template <class T, int N>
struct LaneTypes;
template <>
struct LaneTypes<Counted, 1> {
  using Int = std::int32_t;
  using Reals = Counted;
  using Words = std::int32_t;
};
}  // namespace base

#include "optics/kernel_follow.h"

namespace optics {
namespace {

void run_counting(const KernelBatch<Counted>& batch, KernelRays<Counted>& rays) {
  run_kernel<base::Reals<Counted, 1>>(batch, rays);
}

}  // namespace
}  // namespace optics

namespace {

constexpr int k_rays = 256;  // so many that sums of light fit into 32 bits

double operations_of_a_ray(const optics::Scene& scene) {
  optics::KernelMaker<float> maker(scene, 0.4);
  optics::PointCopy copy(1, 0, 8, 1);
  auto rays = std::make_unique<optics::KernelRays<Counted>>();
  std::uint64_t traced = 0;
  g_operations = 0;
  for (std::size_t i = 0; i < scene.facets.size(); ++i) {
    const optics::KernelPoints points = copy.block(static_cast<std::uint32_t>(i), 0);
    const optics::KernelBatch<float> batch{&maker.scene(), &maker.facet(i), &points,
                                           nullptr,        nullptr,         k_rays};
    optics::run_counting(reinterpret_cast<const optics::KernelBatch<Counted>&>(batch), *rays);
    traced += k_rays;
  }
  return static_cast<double>(g_operations) / static_cast<double>(traced);
}

float g_kept = 0.0F;

#if defined(__x86_64__)
/// Twelve chains of fused steps: enough to fill every stage of two units, few enough for sixteen
/// registers. They are written out, so that none goes through memory.
#define FW_CHAINS(Vector, lanes, target_name, step)                                           \
  __attribute__((target(target_name))) double steps_##lanes(std::int64_t n) {                 \
    const Vector a = Vector{} + 0.999999F;                                                    \
    const Vector b = Vector{} + 1e-6F;                                                        \
    Vector x0 = a, x1 = b, x2 = a + b, x3 = a - b, x4 = -a, x5 = -b;                          \
    Vector x6 = a + a, x7 = b + b, x8 = x6 + a, x9 = x7 + b, x10 = x6 + b, x11 = x7 + a;      \
    for (std::int64_t i = 0; i < n; ++i) {                                                    \
      x0 = step(x0, a, b), x1 = step(x1, a, b), x2 = step(x2, a, b), x3 = step(x3, a, b);     \
      x4 = step(x4, a, b), x5 = step(x5, a, b), x6 = step(x6, a, b), x7 = step(x7, a, b);     \
      x8 = step(x8, a, b), x9 = step(x9, a, b), x10 = step(x10, a, b), x11 = step(x11, a, b); \
    }                                                                                         \
    const Vector sum = x0 + x1 + x2 + x3 + x4 + x5 + x6 + x7 + x8 + x9 + x10 + x11;           \
    g_kept += sum[0];                                                                         \
    return 12.0 * 2.0 * (lanes) * static_cast<double>(n);                                     \
  }
FW_CHAINS(__m512, 16, "avx512f", _mm512_fmadd_ps)
FW_CHAINS(__m256, 8, "avx2,fma", _mm256_fmadd_ps)

/// Operations a second in fused multiplications and additions, which count as two.
double peak(int lanes) {
  double best = 0.0;
  for (int run = 0; run < 9; ++run) {
    const double begun = bench::cpu_seconds();
    const double done = lanes == 16 ? steps_16(8'000'000) : steps_8(8'000'000);
    best = std::max(best, done / (bench::cpu_seconds() - begun));
  }
  return best;
}
#endif

double rays_a_second(const optics::Scene& scene, int lanes) {
  const optics::TraceSettings settings{.rays = 2'000'000, .lanes = lanes};
  const optics::TracePlan plan = optics::plan_trace(scene, settings);
  double best = 0.0;
  for (int run = 0; run < 5; ++run) {
    const double begun = bench::cpu_seconds();
    g_kept +=
        static_cast<float>(optics::trace_part(scene, settings, 0, plan.chunks()).chunks[0].sum[0]);
    best = std::max(best, static_cast<double>(plan.rays()) / (bench::cpu_seconds() - begun));
  }
  return best;
}

}  // namespace

int main() {
#if defined(__x86_64__)
  struct Case {
    const char* name;
    support::SpeedScene scene;
  };
  constexpr Case k_cases[] = {{"dish", support::SpeedScene::dish},
                              {"flat frame", support::SpeedScene::flat_frame},
                              {"two mirrors", support::SpeedScene::two_mirror}};
  for (const int lanes : {8, 16}) {
    if (!optics::has_lanes(lanes)) continue;
    const double most = peak(lanes);
    std::printf("%2d lanes: %.1f Gflop/s at most, one core\n", lanes, 1e-9 * most);
    for (const Case& one : k_cases) {
      const optics::Scene scene =
          optics::make_scene(support::speed_scene(one.scene, 37), {}).value();
      const double operations = operations_of_a_ray(scene);
      const double rate = rays_a_second(scene, lanes);
      std::printf("  %-12s %.0f operations a ray, %.1f Mray/s: %.1f Gflop/s, %.0f %%\n", one.name,
                  operations, 1e-6 * rate, 1e-9 * operations * rate,
                  100.0 * operations * rate / most);
    }
  }
#endif
  return g_kept > 1e30F ? 1 : 0;
}
