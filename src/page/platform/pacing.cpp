// Counts frame requests and keeps the nearest timer.
#include "page/platform/pacing.h"

#include <algorithm>

#include "page/platform/clock.h"
#include "page/platform/window.h"

namespace platform {
namespace {

struct Pacing {
  int requested = 0;
  double timer_s = -1.0;  // when the nearest timer is due, negative for none
  bool in_frame = false;
};

Pacing& pacing() {
  static Pacing kept;
  return kept;
}

}  // namespace

void request_frames(int count) {
  pacing().requested = std::max(pacing().requested, count);
  if (!pacing().in_frame) wake();
}

void request_frame_after(double seconds) {
  const double due_s = steady_s() + std::max(seconds, 0.0);
  if (pacing().timer_s < 0.0 || due_s < pacing().timer_s) pacing().timer_s = due_s;
  if (!pacing().in_frame) wake();
}

int frames_requested() { return pacing().requested; }

void begin_frame_pacing() {
  pacing().in_frame = true;
  pacing().requested = std::max(pacing().requested - 1, 0);
  if (pacing().timer_s >= 0.0 && steady_s() >= pacing().timer_s) pacing().timer_s = -1.0;
}

double next_frame_wait_s(double now_s, double other_wait_s) {
  pacing().in_frame = false;
  if (pacing().requested > 0) return 0.0;
  double wait_s = other_wait_s;
  if (pacing().timer_s >= 0.0) {
    const double timer_wait_s = std::max(pacing().timer_s - now_s, 0.001);
    wait_s = wait_s < 0.0 ? timer_wait_s : std::min(wait_s, timer_wait_s);
  }
  return wait_s;
}

}  // namespace platform
