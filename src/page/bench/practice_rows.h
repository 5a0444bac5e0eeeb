// Rows of simulated practice.
#pragma once

#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

struct PracticeMemory {
  double start_rad = 0.005;
  int seed = 1;
  bool faults = false;  ///< hide one of labels or threads too
};

void show_practice_rows(const session::Session& session, PracticeMemory& memory,
                        FieldMemory& fields, session::Actions& actions);

}  // namespace page
