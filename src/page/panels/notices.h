// What the person should hear: messages that stay until dismissed, and the first minute's hints.
#pragma once

#include "page/layout.h"
#include "session/session.h"

namespace page {

/// Stacks the notices at the top of `over`, newest first, each with a way to dismiss it.
void show_notices(const session::Session& session, const Rect& over, session::Actions& actions);

/// The next of the three hints that is not done yet, at the foot of `over`.
void show_hints(const session::Session& session, const Rect& over);

}  // namespace page
