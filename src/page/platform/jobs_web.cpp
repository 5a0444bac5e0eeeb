// Requests to the host's pool of module workers and their replies.
#include <emscripten.h>

#include <algorithm>
#include <cstddef>
#include <utility>

#include "page/platform/jobs.h"
#include "page/platform/window.h"

// clang-format off
EM_JS(void, host_post_job, (double id, const char* bytes, int length), {
  Module.host.pool.post(id, HEAPU8.slice(bytes, bytes + length));
});
EM_JS(void, host_cancel_job, (double id), { Module.host.pool.cancel(id); });
EM_JS(int, host_worker_count, (), { return Module.host.pool.size; });
EM_JS(int, host_jobs_open, (), { return Module.host.pool.open; });
// clang-format on

namespace {

std::vector<platform::JobReply>& replies() {
  static std::vector<platform::JobReply> kept;
  return kept;
}

std::vector<platform::JobProgress>& shares() {
  static std::vector<platform::JobProgress> kept;
  return kept;
}

}  // namespace

extern "C" EMSCRIPTEN_KEEPALIVE void fw_job_progress(double id, double share) {
  const auto job = static_cast<std::uint64_t>(id);
  const auto same = std::find_if(shares().begin(), shares().end(),
                                 [&](const auto& told) { return told.id == job; });
  if (same == shares().end()) {
    shares().push_back({job, share});
  } else {
    same->share = share;
  }
  platform::request_frames(1);
}

extern "C" EMSCRIPTEN_KEEPALIVE void fw_job_reply(double id, int ok, const char* bytes,
                                                  int length) {
  replies().push_back({static_cast<std::uint64_t>(id), ok != 0,
                       std::string(bytes, static_cast<std::size_t>(length))});
  platform::request_frames(2);
}

namespace platform {

void post_job(std::uint64_t id, std::string bytes) {
  host_post_job(static_cast<double>(id), bytes.data(), static_cast<int>(bytes.size()));
}

std::vector<JobReply> take_replies() { return std::exchange(replies(), {}); }

std::vector<JobProgress> take_progress() { return std::exchange(shares(), {}); }

void cancel_job(std::uint64_t id) { host_cancel_job(static_cast<double>(id)); }

int worker_count() { return host_worker_count(); }

int jobs_open() { return host_jobs_open(); }

}  // namespace platform
