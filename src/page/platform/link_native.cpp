// The native page has no address to put a dish in, and is always at hand without a network.
#include "page/platform/link.h"

#include <utility>

#include "page/platform/offline.h"
#include "page/platform/window.h"

namespace platform {
namespace {

std::optional<MadeLink>& made() {
  static std::optional<MadeLink> kept;
  return kept;
}

}  // namespace

void make_link(const std::string&) {
  made() = MadeLink{.address = "Links are made by the page in a browser.", .copied = false};
  request_frames(2);
}

std::optional<MadeLink> take_made_link() { return std::exchange(made(), {}); }

std::optional<LinkedText> take_linked_text() { return {}; }

bool offline_ready() { return true; }

bool update_waits() { return false; }

void take_update() {}

}  // namespace platform
