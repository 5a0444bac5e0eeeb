// Whether the page can be opened again without a network, and whether a newer one waits.
#pragma once

namespace platform {

/// Everything the page needs is kept on this machine.
[[nodiscard]] bool offline_ready();

/// A newer version has been fetched and takes over when asked.
[[nodiscard]] bool update_waits();

/// Lets the newer version take over: keeps what is open, then loads the page anew.
void take_update();

}  // namespace platform
