// What was typed since the last frame, in the words of the command table: "Ctrl+Shift+Z", "N", "?".
#pragma once

#include <string>
#include <vector>

namespace page {

/// Chords typed this frame, oldest first. Empty while text is being entered or a menu is open.
/// Letters alone read as "N", with Shift as "Shift+N"; other characters as themselves.
std::vector<std::string> typed_chords();

}  // namespace page
