// The kernel one ray after another in single precision, and what only facets with form errors need.
#include "optics/kernel_follow.h"

namespace optics {

void run_kernel_1(const KernelBatch<float>& batch, KernelRays<float>& rays) {
  run_kernel<base::Reals<float, 1>>(batch, rays);
}

void spread_kernel_float(const KernelBatch<float>& batch, float* u, float* v) {
  spread_kernel<base::Reals<float, 1>>(batch, u, v);
}

}  // namespace optics
