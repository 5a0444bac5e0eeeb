// What the script of a web worker calls: a request's bytes stand in the program's memory, the
// reply's bytes stay there until the next request.
#include <emscripten/emscripten.h>

#include <cstddef>
#include <string_view>

#include "worker/answer.h"

// clang-format off
EM_JS(void, host_tell_progress, (double share), { Module.tellProgress(share); });
// clang-format on

namespace {

/// A message for each hundredth at most: the page redraws on every one.
base::Progress progress_by_hundredths() {
  base::Progress progress;
  progress.report = [told = 0.0](double share) mutable {
    if (share - told < 0.01) return;
    told = share;
    host_tell_progress(share);
  };
  return progress;
}

/// The last reply. A worker answers one job after the other, so one is enough.
worker::Answer& last() {
  static worker::Answer answer;
  return answer;
}

}  // namespace

extern "C" {

/// Returns 1 when the task answered (also with problems), 0 when the worker broke down.
EMSCRIPTEN_KEEPALIVE int fw_worker_run(const char* request, std::size_t length) {
  last() = worker::answer(std::string_view(request, length), progress_by_hundredths());
  return last().ok ? 1 : 0;
}

EMSCRIPTEN_KEEPALIVE const char* fw_worker_reply() { return last().bytes.data(); }

EMSCRIPTEN_KEEPALIVE std::size_t fw_worker_reply_length() { return last().bytes.size(); }

/// Gives the reply's memory back before the next request.
EMSCRIPTEN_KEEPALIVE void fw_worker_free() { last() = {}; }

}  // extern "C"
