// The figures below the plate: what arrives, how well it is gathered, and how sure that is.
#pragma once

#include "page/layout.h"
#include "session/session.h"

namespace target_card {

/// Height the figures take, CSS pixels.
float figures_height();

/// Rows of name and value with a sentence on each, and how the full trace stands.
void show_figures(const session::Session& session, const page::Rect& place,
                  session::Actions& actions);

}  // namespace target_card
