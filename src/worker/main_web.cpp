// What the script of a web worker calls: a request's bytes stand in the program's memory, the
// reply's bytes stay there until the next request.
#include <emscripten/emscripten.h>

#include <cstddef>
#include <string_view>

#include "worker/answer.h"

namespace {

/// The last reply. A worker answers one job after the other, so one is enough.
worker::Answer& last() {
  static worker::Answer answer;
  return answer;
}

}  // namespace

extern "C" {

/// Returns 1 when the task answered (also with problems), 0 when the worker broke down.
EMSCRIPTEN_KEEPALIVE int fw_worker_run(const char* request, std::size_t length) {
  last() = worker::answer(std::string_view(request, length));
  return last().ok ? 1 : 0;
}

EMSCRIPTEN_KEEPALIVE const char* fw_worker_reply() { return last().bytes.data(); }

EMSCRIPTEN_KEEPALIVE std::size_t fw_worker_reply_length() { return last().bytes.size(); }

/// Gives the reply's memory back before the next request.
EMSCRIPTEN_KEEPALIVE void fw_worker_free() { last() = {}; }

}  // extern "C"
