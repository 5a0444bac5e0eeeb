// Rows of the budget: what each error costs, greatest first, and what would pay most.
#pragma once

#include "session/session.h"

namespace page {

void show_budget_rows(const session::Session& session, session::Actions& actions);

}  // namespace page
