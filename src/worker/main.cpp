// The program inside one Web Worker: a request in, a reply out, by the same tasks as everywhere
// else. The worker's script (web/worker.mjs) puts the request into memory and takes the reply out.
#include <emscripten.h>

#include <cstddef>
#include <exception>
#include <string>
#include <string_view>

#include "tasks/task.h"

namespace {

std::string& reply() {
  static std::string kept;
  return kept;
}

}  // namespace

extern "C" {

/// Runs one request and keeps the reply until the next. Returns 1, or 0 when the task broke down:
/// the reply is then one sentence about it.
EMSCRIPTEN_KEEPALIVE int fw_worker_run(const char* request, int length) {
  try {
    reply() = tasks::run_to_text(std::string_view(request, static_cast<std::size_t>(length)));
    return 1;
  } catch (const std::exception& fault) {
    reply() = fault.what();
  }
  return 0;
}

EMSCRIPTEN_KEEPALIVE const char* fw_worker_reply() { return reply().data(); }

EMSCRIPTEN_KEEPALIVE int fw_worker_reply_length() { return static_cast<int>(reply().size()); }

}  // extern "C"
