// How a long answer tells how far it is and learns that nobody wants it any more.
#pragma once

#include <functional>

namespace base {

struct Progress {
  std::function<void(double)> report;  ///< called with 0..1, rarely; may be empty
  std::function<bool()> is_cancelled;  ///< asked between chunks; may be empty

  void tell(double done) const {
    if (report) report(done);
  }
  [[nodiscard]] bool cancelled() const { return is_cancelled && is_cancelled(); }
};

}  // namespace base
