// The line along the top: which dish, which step of the job, what can be taken back, how it looks.
#pragma once

#include "session/session.h"

namespace page {

/// Fills the current window, one row high.
void show_job_line(const session::Session& session, session::Actions& actions);

}  // namespace page
