// What the page remembers on this machine between visits.
#pragma once

#include <functional>
#include <string>

namespace platform {

/// Keeps bytes under a key. Written within a second and when the page is left; the last value given
/// counts.
void store(const std::string& key, const std::string& bytes);

/// Hands over everything that was kept. Ready before the first frame, so this answers at once.
void load_all(const std::function<void(const std::string& key, const std::string& bytes)>& take);

/// A sentence when keeping failed (storage full or forbidden), empty while all is well.
[[nodiscard]] std::string storage_trouble();

}  // namespace platform
