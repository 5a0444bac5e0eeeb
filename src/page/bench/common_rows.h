// The errors that all facets share, each with what it means and where it is best put right.
#pragma once

#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

void show_common_rows(const session::Session& session, session::Actions& actions);

}  // namespace page
