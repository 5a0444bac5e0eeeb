// What the host has restored before the start, and what it is to keep.
#include <emscripten.h>

#include <cstddef>
#include <map>

#include "page/platform/storage.h"
#include "page/platform/window.h"

// clang-format off
EM_JS(void, host_store, (const char* key, const char* bytes, int length), {
  Module.host.storage.store(UTF8ToString(key), HEAPU8.slice(bytes, bytes + length));
});
// clang-format on

namespace {

struct Kept {
  std::map<std::string, std::string> items;  // sorted, so that restoring has one order
  std::string trouble;
};

Kept& kept() {
  static Kept the_only;
  return the_only;
}

}  // namespace

extern "C" {

/// One kept item, before fw_start.
EMSCRIPTEN_KEEPALIVE void fw_restored(const char* key, const char* bytes, int length) {
  kept().items[key].assign(bytes, static_cast<std::size_t>(length));
}

EMSCRIPTEN_KEEPALIVE void fw_storage_trouble(const char* sentence) {
  kept().trouble = sentence;
  platform::request_frames(2);
}

}  // extern "C"

namespace platform {

void store(const std::string& key, const std::string& bytes) {
  host_store(key.c_str(), bytes.data(), static_cast<int>(bytes.size()));
}

void load_all(const std::function<void(const std::string& key, const std::string& bytes)>& take) {
  for (const auto& [key, bytes] : kept().items) take(key, bytes);
}

std::string storage_trouble() { return kept().trouble; }

}  // namespace platform
