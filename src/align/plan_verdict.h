// What a plan's corrections come to together.
#pragma once

#include "align/plan.h"

namespace align {

/// Fills in, from the plan's facets, the rms tilts before and after, how many are to be turned, and
/// the verdict on the dish as a whole.
void sum_up(Plan& plan);

}  // namespace align
