// Telling a surface that is as it was meant.
#include "dish/form_error.h"

namespace dish {

bool is_perfect(const FormError& error) {
  return error.defocus_m == 0.0 && error.astigmatism_0_m == 0.0 && error.astigmatism_45_m == 0.0 &&
         error.trefoil_0_m == 0.0 && error.trefoil_30_m == 0.0 && !error.roll_off &&
         error.sag_map == nullptr;
}

}  // namespace dish
