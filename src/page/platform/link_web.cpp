// Links that hold a dish, packed and unpacked by the host, and the state of the offline copy.
#include "page/platform/link.h"

#include <emscripten.h>

#include <cstddef>
#include <utility>

#include "page/platform/offline.h"
#include "page/platform/window.h"

// clang-format off
EM_JS(void, host_make_link, (const char* text), { Module.host.link.make(UTF8ToString(text)); });
EM_JS(void, host_take_update, (), { Module.host.offline.takeUpdate(); });
// clang-format on

namespace {

struct Links {
  std::optional<platform::LinkedText> linked;
  std::optional<platform::MadeLink> made;
  bool offline_ready = false;
  bool update_waits = false;
};

Links& links() {
  static Links kept;
  return kept;
}

}  // namespace

extern "C" {

EMSCRIPTEN_KEEPALIVE void fw_linked_text(const char* text, int length, const char* trouble) {
  links().linked = {std::string(text, static_cast<std::size_t>(length)), trouble};
  platform::request_frames(3);
}

EMSCRIPTEN_KEEPALIVE void fw_made_link(const char* address, int copied) {
  links().made = {address, copied != 0};
  platform::request_frames(3);
}

EMSCRIPTEN_KEEPALIVE void fw_offline_state(int ready, int update) {
  links().offline_ready = ready != 0;
  links().update_waits = update != 0;
  platform::request_frames(2);
}

}  // extern "C"

namespace platform {

void make_link(const std::string& text) { host_make_link(text.c_str()); }

std::optional<MadeLink> take_made_link() { return std::exchange(links().made, {}); }

std::optional<LinkedText> take_linked_text() { return std::exchange(links().linked, {}); }

bool offline_ready() { return links().offline_ready; }

bool update_waits() { return links().update_waits; }

void take_update() { host_take_update(); }

}  // namespace platform
