// Events by ImGui's own GLFW layer, which is sound on desktops.
#include "page/platform/input.h"

#include <backends/imgui_impl_glfw.h>

#include "page/platform/native_window.h"

namespace platform {

void install_input() { ImGui_ImplGlfw_InitForOpenGL(native_window(), true); }

void after_frame_input() {}

bool touch_in_use() { return false; }

}  // namespace platform
