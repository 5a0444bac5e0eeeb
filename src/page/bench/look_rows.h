// Ways to begin: a photo, a new round, a trial of the screws, spots spread on purpose.
#pragma once

#include "session/session.h"

namespace page {

void show_look_rows(const session::Session& session, session::Actions& actions);

}  // namespace page
