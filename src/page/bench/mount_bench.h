// Bench of the stage Mount: adjusters, springs, and the caliper height of every screw.
#pragma once

#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

struct MountMemory {
  FieldMemory fields;
  std::size_t mount = 0;  ///< which mount is edited
  std::size_t screw = 0;  ///< which of its adjusters
};

/// Fills the current window.
void show_mount_bench(const session::Session& session, MountMemory& memory,
                      session::Actions& actions);

}  // namespace page
