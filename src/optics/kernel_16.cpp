// The kernel for 16 lanes. Compiled with flags of its own: nothing but the kernel may be included.
#include "optics/kernel_follow.h"

namespace optics {

void run_kernel_16(const KernelBatch<float>& batch, KernelRays<float>& rays) {
  run_kernel<base::Reals<float, 16>>(batch, rays);
}

}  // namespace optics
