// The selected facet's three adjusters, as seen from where the person stands: where they are, what
// the correction tells, what travel and spring are left.
#pragma once

#include <array>

#include "page/panels/dial.h"
#include "session/session.h"

namespace page {

struct StripMemory {
  std::array<DialMemory, 3> dials;
};

/// Fills the current window.
void show_screw_strip(const session::Session& session, StripMemory& memory,
                      session::Actions& actions);

}  // namespace page
