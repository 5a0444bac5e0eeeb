// One job of a worker: a request's bytes in, the reply's bytes out, and no fault that leaves.
#pragma once

#include <string>
#include <string_view>

#include "base/progress.h"

namespace worker {

struct Answer {
  bool ok = false;    ///< false: the worker itself broke down, and `bytes` is one sentence
  std::string bytes;  ///< the task's reply, or {"problems": [...]}
};

/// Runs the task that the request asks for (see tasks/task.h).
Answer answer(std::string_view request, const base::Progress& progress = {});

}  // namespace worker
