// Text to and from the system's clipboard.
#pragma once

#include <string>

namespace platform {

/// Lets ImGui's copy, cut and paste use the system's clipboard. Once, after ImGui's context is
/// made.
void install_clipboard();

/// Puts text on the clipboard. In a browser it works only as the answer to a key or click.
void copy_text(const std::string& text);

}  // namespace platform
