// Rows of the photo bench for a film of the board while an edge crosses the dish.
#pragma once

#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

/// With which photo each crossing begins, and where the edge moves to.
void show_crossing_rows(const session::Session& session, FieldMemory& fields,
                        session::Actions& actions);

}  // namespace page
