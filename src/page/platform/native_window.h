// The one window of the native page, for the platform's own files.
#pragma once

struct GLFWwindow;

namespace platform {

/// Null until the entry has made it.
GLFWwindow*& native_window();

}  // namespace platform
