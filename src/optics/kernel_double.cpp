// The kernel in double, one ray after another: the reference for the float ones.
#include "optics/kernel_follow.h"

namespace optics {

void run_kernel_double(const KernelBatch<double>& batch, KernelRays<double>& rays) {
  run_kernel<base::Reals<double, 1>>(batch, rays);
}

void spread_kernel_double(const KernelBatch<double>& batch, double* u, double* v) {
  spread_kernel<base::Reals<double, 1>>(batch, u, v);
}

}  // namespace optics
