// The two clocks of the machine the page runs on.
#pragma once

namespace platform {

/// Seconds from an arbitrary start, never going back: for measuring and for pacing.
[[nodiscard]] double steady_s();

/// Seconds since 1970-01-01 00:00 UTC by the machine's clock.
[[nodiscard]] double utc_s();

/// What the machine's local time is ahead of UTC at this moment, in minutes; east is positive.
[[nodiscard]] double zone_offset_min();

}  // namespace platform
