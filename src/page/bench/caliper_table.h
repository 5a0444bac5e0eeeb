// The table of caliper heights: what every screw is set to before the facet sees the sun.
#pragma once

#include "session/session.h"

namespace page {

void show_caliper_table(const session::Session& session, session::Actions& actions);

}  // namespace page
