// Work that takes longer than a frame: requests as bytes to a pool of workers, replies as bytes
// back.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace platform {

struct JobReply {
  std::uint64_t id = 0;
  bool ok = false;    ///< false: the worker itself broke down; `bytes` is then one sentence
  std::string bytes;  ///< what the task answered
};

/// Queues a request for the next free worker. Jobs start in the order given. Ids are the caller's
/// and below 2^53.
void post_job(std::uint64_t id, std::string bytes);

/// Replies that have come since the last call, in order of arrival, which is not the order of
/// posting. Their arrival asks for frames.
[[nodiscard]] std::vector<JobReply> take_replies();

/// How far jobs have come, the last share (0..1) told of each since the last call.
struct JobProgress {
  std::uint64_t id = 0;
  double share = 0.0;
};
[[nodiscard]] std::vector<JobProgress> take_progress();

/// Forgets a job: one not yet begun is dropped, one that runs has its reply dropped, and its worker
/// is freed if it goes on for long.
void cancel_job(std::uint64_t id);

/// Workers that share the jobs, at least one.
[[nodiscard]] int worker_count();

/// Jobs posted, not cancelled and not yet answered.
[[nodiscard]] int jobs_open();

}  // namespace platform
