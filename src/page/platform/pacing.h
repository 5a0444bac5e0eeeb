// Decides whether and when another frame is drawn. The only place that does.
#pragma once

namespace platform {

/// A frame begins: it uses up one request, and a timer that is due.
void begin_frame_pacing();

/// Seconds until the next frame: 0 at once, negative for none. `other_wait_s` is what the drawing
/// itself waits for, in the same meaning.
[[nodiscard]] double next_frame_wait_s(double now_s, double other_wait_s);

/// Called by the platform when a frame must be scheduled although none is running.
void wake();

}  // namespace platform
