// Which of the kernels this machine can run, found when it runs.
#include "base/check.h"
#include "optics/chunk_tracer.h"

namespace optics {

#if defined(__x86_64__)
bool has_lanes(int lanes) {
  if (lanes == 8) return __builtin_cpu_supports("avx2") != 0;
  if (lanes == 16) {
    return __builtin_cpu_supports("avx512f") != 0 && __builtin_cpu_supports("avx512dq") != 0 &&
           __builtin_cpu_supports("avx512vl") != 0 && __builtin_cpu_supports("avx512bw") != 0;
  }
  return lanes == 1 || lanes == 4;
}

int widest_lanes() { return has_lanes(16) ? 16 : has_lanes(8) ? 8 : 4; }
#else
// Elsewhere wide lanes are made of several registers of four.
bool has_lanes(int lanes) { return lanes == 1 || lanes == 4 || lanes == 8 || lanes == 16; }

int widest_lanes() { return 4; }
#endif

void run_kernel(int lanes, const KernelBatch<float>& batch, KernelRays<float>& rays) {
  switch (lanes) {
    case 1:
      return run_kernel_1(batch, rays);
    case 4:
      return run_kernel_4(batch, rays);
    case 8:
      return run_kernel_8(batch, rays);
    default:
      BASE_CHECK(lanes == 16, "there are kernels for 1, 4, 8 and 16 lanes");
      return run_kernel_16(batch, rays);
  }
}

void run_kernel(int /*lanes*/, const KernelBatch<double>& batch, KernelRays<double>& rays) {
  run_kernel_double(batch, rays);
}

}  // namespace optics
