// How Dear ImGui is compiled for this page.
// A broken promise inside it throws, so that the frame's guard can show a sentence; item hooks
// serve the browser tests.
#pragma once

#include <stdexcept>

#define IM_ASSERT(condition) \
  ((condition) ? static_cast<void>(0) : throw std::logic_error("interface: " #condition))
// Thousands of rays and spots in one window are more vertices than sixteen bits count.
#define ImDrawIdx unsigned int
#define IMGUI_DISABLE_OBSOLETE_FUNCTIONS
#define IMGUI_DISABLE_DEMO_WINDOWS
#define IMGUI_DISABLE_DEBUG_TOOLS
#define IMGUI_ENABLE_TEST_ENGINE
