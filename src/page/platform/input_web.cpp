// Feeds the browser's pointer, keyboard and text events to ImGui's queue.
// The host translates; here only ImGui's own names and limits are known.
#include <emscripten.h>
#include <imgui.h>
#include <imgui_internal.h>

#include <cstring>

#include "page/platform/input.h"
#include "page/platform/window.h"

// clang-format off
EM_JS(void, host_want_text, (int wanted, double x, double y, double height), {
  Module.host.text.want(wanted !== 0, x, y, height);
});
EM_JS(int, host_is_mac, (), { return /Mac|iPhone|iPad/.test(navigator.platform) ? 1 : 0; });
EM_JS(void, host_set_cursor, (int cursor), { Module.host.setCursor(cursor); });
// clang-format on

namespace {

// An input needs a frame to act in, one for what it changed and one for what that changed in turn.
constexpr int k_frames_per_input = 3;

struct Typing {
  bool wanted = false;
  bool touch = false;
  int cursor = -1;
  ImVec2 caret{0.0F, 0.0F};
  float line_height = 0.0F;
};

Typing& typing() {
  static Typing kept;
  return kept;
}

void place_input_method(ImGuiViewport*, ImGuiPlatformImeData* data) {
  typing().caret = data->InputPos;
  typing().line_height = data->InputLineHeight;
}

}  // namespace

extern "C" {

/// ImGui's number for a key named as ImGui names it ("LeftArrow", "A"); 0 for an unknown name.
EMSCRIPTEN_KEEPALIVE int fw_key_named(const char* name) {
  for (int key = ImGuiKey_NamedKey_BEGIN; key < ImGuiKey_NamedKey_END; ++key)
    if (std::strcmp(ImGui::GetKeyName(static_cast<ImGuiKey>(key)), name) == 0) return key;
  return 0;
}

/// `modifiers`: 1 control, 2 shift, 4 alt, 8 the system's own.
EMSCRIPTEN_KEEPALIVE void fw_key(int key, int down, int modifiers) {
  ImGuiIO& io = ImGui::GetIO();
  io.AddKeyEvent(ImGuiMod_Ctrl, (modifiers & 1) != 0);
  io.AddKeyEvent(ImGuiMod_Shift, (modifiers & 2) != 0);
  io.AddKeyEvent(ImGuiMod_Alt, (modifiers & 4) != 0);
  io.AddKeyEvent(ImGuiMod_Super, (modifiers & 8) != 0);
  if (key != 0) io.AddKeyEvent(static_cast<ImGuiKey>(key), down != 0);
  platform::request_frames(k_frames_per_input);
}

EMSCRIPTEN_KEEPALIVE void fw_text(const char* utf8) {
  ImGui::GetIO().AddInputCharactersUTF8(utf8);
  platform::request_frames(k_frames_per_input);
}

/// Position in CSS pixels; far outside when the pointer has left.
EMSCRIPTEN_KEEPALIVE void fw_pointer(double x, double y, int touch) {
  ImGuiIO& io = ImGui::GetIO();
  typing().touch = touch != 0;
  io.AddMouseSourceEvent(touch != 0 ? ImGuiMouseSource_TouchScreen : ImGuiMouseSource_Mouse);
  io.AddMousePosEvent(static_cast<float>(x), static_cast<float>(y));
  platform::request_frames(k_frames_per_input);
}

EMSCRIPTEN_KEEPALIVE void fw_button(int button, int down) {
  ImGui::GetIO().AddMouseButtonEvent(button, down != 0);
  platform::request_frames(k_frames_per_input);
}

EMSCRIPTEN_KEEPALIVE void fw_wheel(double right, double up) {
  ImGui::GetIO().AddMouseWheelEvent(static_cast<float>(right), static_cast<float>(up));
  platform::request_frames(k_frames_per_input);
}

EMSCRIPTEN_KEEPALIVE void fw_focus(int has_focus) {
  ImGui::GetIO().AddFocusEvent(has_focus != 0);
  platform::request_frames(k_frames_per_input);
}

}  // extern "C"

namespace platform {

void install_input() {
  ImGuiIO& io = ImGui::GetIO();
  io.BackendPlatformName = "browser";
  io.BackendFlags |= ImGuiBackendFlags_HasMouseCursors;
  io.ConfigMacOSXBehaviors = host_is_mac() != 0;
  io.SetPlatformImeDataFn = place_input_method;
}

void after_frame_input() {
  const ImGuiIO& io = ImGui::GetIO();
  Typing& state = typing();
  if (io.WantTextInput || state.wanted)
    host_want_text(io.WantTextInput ? 1 : 0, state.caret.x, state.caret.y, state.line_height);
  state.wanted = io.WantTextInput;
  const int cursor = ImGui::GetMouseCursor();
  if (cursor != state.cursor) host_set_cursor(cursor);
  state.cursor = cursor;
}

bool touch_in_use() { return typing().touch; }

}  // namespace platform
