// Bench of the stage Form: which surface each facet gets, of how many moulds, and what that costs.
#pragma once

#include <cstddef>
#include <cstdint>

#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

struct FormMemory {
  FieldMemory fields;
  std::size_t type = 0;         ///< which facet type is edited
  std::size_t option = 0;       ///< the choice whose particulars are shown
  std::uint64_t shown_job = 0;  ///< of the answer that `option` belongs to
};

/// Fills the current window.
void show_form_bench(const session::Session& session, FormMemory& memory,
                     session::Actions& actions);

}  // namespace page
