// The table of turns: one row a facet, one column a screw, and the verdict.
#pragma once

#include "session/session.h"

namespace page {

/// The session must have a plan.
void show_turns_table(const session::Session& session, session::Actions& actions);

}  // namespace page
