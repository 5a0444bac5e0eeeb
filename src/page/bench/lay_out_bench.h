// Bench of the stage Lay out: facets, focal length, secondary, receiver and sun.
#pragma once

#include "dish/recipes.h"
#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

/// The layout being tried. It acts on the dish only once the person asks for it.
struct LayOutMemory {
  FieldMemory fields;
  dish::Layout layout = dish::RingsLayout{};
  std::string of_dish;  ///< name of the dish it was laid on; another dish starts afresh
  bool acting = false;  ///< laid out: from now on every change lays out anew
};

/// Fills the current window.
void show_lay_out_bench(const session::Session& session, LayOutMemory& memory,
                        session::Actions& actions);

}  // namespace page
