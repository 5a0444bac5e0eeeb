// ImGui's clipboard over the browser's: copied text goes out at once, pasted text comes in with the
// paste event.
#include <emscripten.h>
#include <imgui.h>

#include <string>

#include "page/platform/clipboard.h"

// clang-format off
EM_JS(void, host_copy, (const char* text), { Module.host.clipboard.copy(UTF8ToString(text)); });
// clang-format on

namespace {

std::string& pasted() {
  static std::string kept;
  return kept;
}

void give(void*, const char* text) {
  pasted() = text;
  host_copy(text);
}

const char* take(void*) { return pasted().c_str(); }

}  // namespace

extern "C" EMSCRIPTEN_KEEPALIVE void fw_pasted(const char* text) { pasted() = text; }

namespace platform {

void install_clipboard() {
  ImGuiIO& io = ImGui::GetIO();
  io.SetClipboardTextFn = give;
  io.GetClipboardTextFn = take;
}

void copy_text(const std::string& text) { give(nullptr, text.c_str()); }

}  // namespace platform
