// The photo bench while the photos show a screen's fringes in the facets.
#pragma once

#include "page/bench/photo_bench.h"

namespace page {

/// In the order of the work: screen and camera, facets pointed at, reading, taking.
void show_look_back_rows(const session::Session& session, PhotoMemory& memory,
                         session::Actions& actions);

}  // namespace page
