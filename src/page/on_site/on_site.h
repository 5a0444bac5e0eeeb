// At the dish: one facet at a time in letters that can be read from two metres and in full sun.
#pragma once

#include "page/layout.h"
#include "session/session.h"

namespace page {

/// Fills `place` in front of everything else while the work on site is shown.
void show_on_site(const session::Session& session, const Rect& place, session::Actions& actions);

}  // namespace page
