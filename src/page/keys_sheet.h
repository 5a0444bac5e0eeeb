// The help sheet: every key and what it does, laid over the page.
#pragma once

#include "session/session.h"

namespace page {

/// Draws the sheet in the middle of the window; a click beside it or Escape puts it away.
void show_keys_sheet(const session::Session& session, session::Actions& actions);

}  // namespace page
