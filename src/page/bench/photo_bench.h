// Bench while photographs of the board are on the table.
#pragma once

#include "page/bench/fields.h"
#include "page/photos/canvas.h"
#include "session/session.h"

namespace page {

struct PhotoMemory {
  FieldMemory fields;
  PhotoCanvas canvas;
};

/// Fills the current window.
void show_photo_bench(const session::Session& session, PhotoMemory& memory,
                      session::Actions& actions);

}  // namespace page
