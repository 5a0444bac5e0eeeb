// The page's door for the browser: what web/host calls.
// Every call that may draw catches what goes wrong, so that one fault shows one sentence instead of
// a dead page.
#include <emscripten.h>
#include <emscripten/html5.h>

#include <exception>
#include <string>

#include "page/main.h"
#include "page/platform/item_table.h"

// clang-format off
EM_JS(void, host_fault, (const char* sentence), { Module.host.fault(UTF8ToString(sentence)); });
// clang-format on

namespace {

template <class Work>
double guarded(const Work& work) {
  try {
    return work();
  } catch (const std::exception& fault) {
    host_fault(fault.what());
  } catch (...) {
    host_fault("an unknown fault");
  }
  return -1.0;
}

}  // namespace

extern "C" {

/// Makes the graphics context on the page's canvas; 0 when the browser has no WebGL 2.
EMSCRIPTEN_KEEPALIVE int fw_make_context(int multisample) {
  EmscriptenWebGLContextAttributes wanted;
  emscripten_webgl_init_context_attributes(&wanted);
  wanted.majorVersion = 2;
  wanted.alpha = EM_FALSE;  // otherwise what lies behind the page shines through
  wanted.depth = EM_TRUE;
  wanted.stencil = EM_FALSE;
  wanted.antialias = multisample != 0 ? EM_TRUE : EM_FALSE;
  const EMSCRIPTEN_WEBGL_CONTEXT_HANDLE context =
      emscripten_webgl_create_context("#canvas", &wanted);
  if (context <= 0) return 0;
  return emscripten_webgl_make_context_current(context) == EMSCRIPTEN_RESULT_SUCCESS ? 1 : 0;
}

EMSCRIPTEN_KEEPALIVE void fw_start() {
  guarded([] {
    page::start();
    return 0.0;
  });
}

EMSCRIPTEN_KEEPALIVE double fw_frame(double now_s) {
  return guarded([now_s] { return page::draw(now_s); });
}

EMSCRIPTEN_KEEPALIVE void fw_context_lost() { page::lose_context(); }

EMSCRIPTEN_KEEPALIVE void fw_context_restored() {
  guarded([] {
    page::restore_context();
    return 0.0;
  });
}

EMSCRIPTEN_KEEPALIVE const char* fw_test_report() { return page::test_report(); }

EMSCRIPTEN_KEEPALIVE void fw_test_watch_items(int on) { platform::watch_items(on != 0); }

EMSCRIPTEN_KEEPALIVE const char* fw_test_items() {
  static std::string items;
  items = platform::item_table();
  return items.c_str();
}

}  // extern "C"
