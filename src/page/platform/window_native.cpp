// The developer's window: size and frames by GLFW, clocks by the C++ library.
#include "page/platform/window.h"

#include <GLFW/glfw3.h>

#include <chrono>
#include <ctime>

#include "page/platform/clock.h"
#include "page/platform/native_window.h"
#include "page/platform/pacing.h"

namespace platform {

GLFWwindow*& native_window() {
  static GLFWwindow* window = nullptr;
  return window;
}

Size display_size() {
  int width = 0;
  int height = 0;
  glfwGetWindowSize(native_window(), &width, &height);
  return {static_cast<float>(width), static_cast<float>(height)};
}

float device_pixel_ratio() {
  int window_width = 0;
  int pixel_width = 0;
  int unused = 0;
  glfwGetWindowSize(native_window(), &window_width, &unused);
  glfwGetFramebufferSize(native_window(), &pixel_width, &unused);
  return window_width > 0 ? static_cast<float>(pixel_width) / static_cast<float>(window_width)
                          : 1.0F;
}

void wake() { glfwPostEmptyEvent(); }

void set_title(const char* title) { glfwSetWindowTitle(native_window(), title); }

void set_backdrop(float, float, float) {}

bool prefers_reduced_motion() { return false; }

bool prefers_light() { return false; }

double steady_s() { return glfwGetTime(); }

double utc_s() {
  return std::chrono::duration<double>(std::chrono::system_clock::now().time_since_epoch()).count();
}

double zone_offset_min() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return static_cast<double>(local.tm_gmtoff) / 60.0;
}

}  // namespace platform
