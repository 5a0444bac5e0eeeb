// How the rounds go: tilt from round to round, what stopping or going on would bring, and what the
// log says of screws and labels.
#pragma once

#include "session/session.h"

namespace page {

void show_story_rows(const session::Session& session, session::Actions& actions);

}  // namespace page
