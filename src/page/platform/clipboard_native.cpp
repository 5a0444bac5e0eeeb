// The desktop's clipboard; ImGui's GLFW layer already ties ImGui to it.
#include "page/platform/clipboard.h"

#include <imgui.h>

namespace platform {

void install_clipboard() {}

void copy_text(const std::string& text) { ImGui::SetClipboardText(text.c_str()); }

}  // namespace platform
