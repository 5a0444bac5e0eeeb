// Rows of the round that is shown: which one, the light it was seen in, and the board.
#pragma once

#include "page/bench/align_bench.h"

namespace page {

/// Which of the log's rounds is shown.
void show_round_choice(const session::Session& session, session::Actions& actions);

/// How it was seen.
void show_round_rows(const session::Session& session, AlignMemory& memory,
                     session::Actions& actions);

}  // namespace page
