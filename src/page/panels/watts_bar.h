// Where the watts go: one bar from the sunlight on the aperture to what the receiver takes.
#pragma once

#include "session/session.h"

namespace page {

/// Fills the current window.
void show_watts_bar(const session::Session& session);

}  // namespace page
