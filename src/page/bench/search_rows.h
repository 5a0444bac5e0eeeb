// Rows of the searches: aims that flatten the flux, sizes that bring the most watts.
#pragma once

#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

struct SearchMemory {
  int what = 0;  ///< 0 aims, 1 sizes
  bool has_limit = false;
  double limit_W_m2 = 2e5;
  double most_loss = 0.01;
  double mean_concentration = 300.0;
};

void show_search_rows(const session::Session& session, SearchMemory& memory, FieldMemory& fields,
                      session::Actions& actions);

}  // namespace page
