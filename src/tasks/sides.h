// The sides of something flat in a request: the board on photographs, the screen of a look back.
#pragma once

#include <functional>
#include <optional>

#include "tasks/settings.h"

namespace tasks {

struct Sides {
  double width_m = 0.0;
  double height_m = 0.0;
};

/// `key` {"width_mm", "height_mm"}, both of them, and what `more` reads from the same object.
/// Nothing, with problems in `settings`, when something is missing or no number; how large a thing
/// may be is its own check.
std::optional<Sides> read_sides(Settings& settings, const std::string& key,
                                const std::function<void(Settings&)>& more = {});

}  // namespace tasks
