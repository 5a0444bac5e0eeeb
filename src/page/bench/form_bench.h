// Bench of the stage Form: which surface each facet gets, of how many moulds, and what that costs.
#pragma once

#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

struct FormMemory {
  FieldMemory fields;
  std::size_t type = 0;  ///< which facet type is edited
};

/// Fills the current window.
void show_form_bench(const session::Session& session, FormMemory& memory,
                     session::Actions& actions);

}  // namespace page
