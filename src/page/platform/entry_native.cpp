// The page in a window of its own, for developing and debugging: the same frames, drawn when GLFW
// reports an event.
#include <GLES3/gl3.h>
#include <backends/imgui_impl_glfw.h>
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include <cstdio>

#include "page/main.h"
#include "page/platform/native_window.h"
#include "page/platform/window.h"

namespace {

constexpr int k_width = 1366;
constexpr int k_height = 768;

bool open_window() {
  if (glfwInit() == GLFW_FALSE) return false;
  glfwWindowHint(GLFW_CLIENT_API, GLFW_OPENGL_ES_API);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 0);
  glfwWindowHint(GLFW_SAMPLES, 4);
  platform::native_window() = glfwCreateWindow(k_width, k_height, "Facetwright", nullptr, nullptr);
  if (platform::native_window() == nullptr) return false;
  glfwMakeContextCurrent(platform::native_window());
  glfwSwapInterval(1);
  return true;
}

/// ImGui's own GLFW layer measures time and size as the page does; only its events are wanted here.
void run() {
  double wait_s = 0.0;
  while (glfwWindowShouldClose(platform::native_window()) == GLFW_FALSE) {
    if (wait_s == 0.0) {
      glfwPollEvents();
    } else {
      if (wait_s > 0.0)
        glfwWaitEventsTimeout(wait_s);
      else
        glfwWaitEvents();
      platform::request_frames(3);
    }
    wait_s = page::draw(glfwGetTime());
    glfwSwapBuffers(platform::native_window());
  }
}

}  // namespace

int main() {
  if (!open_window()) {
    std::fprintf(stderr, "facetwright: no window with OpenGL ES 3 could be opened here\n");
    return 1;
  }
  page::start();
  run();
  glfwTerminate();
  return 0;
}
