// Which share of a facet's light is shaded, blocked or lost, cell by cell: from a small fixed set
// of rays, the same for every evaluation, so that the quick evaluation stays free of noise.
#pragma once

#include <vector>

#include "base/vec.h"
#include "optics/scene.h"

namespace optics {

/// Shares of caught light; what is left of 1 lands on the receiver's plane.
struct Fates {
  double shaded = 0.0;
  double blocked = 0.0;       ///< before the secondary, or on the way to a prime-focus receiver
  double blocked_late = 0.0;  ///< after the secondary
  double missed = 0.0;        ///< the secondary
  double lost = 0.0;          ///< landed nowhere on the lit side

  [[nodiscard]] double landed() const {
    return 1.0 - shaded - blocked - blocked_late - missed - lost;
  }
};

/// Fates over a facet's outline: one pair of a place and its fates for each of some two dozen
/// pieces. Empty when no ray was stopped, or none can be.
struct Visibility {
  struct Piece {
    base::Vec2 uv{0.0, 0.0};
    Fates fates;
  };
  std::vector<Piece> pieces;

  /// Fates of the piece nearest to a place; all light lands when there are no pieces.
  [[nodiscard]] Fates at(const base::Vec2& uv) const;
};

/// 512 rays of a fixed stream of the facet, the sun's disc and all errors drawn as in the full
/// trace.
Visibility find_visibility(const Scene& scene, std::size_t facet);

/// Whether a facet, or anything, may stand between the secondary and the receiver (twice its size,
/// so that light that spills nearby is judged as well). Light that spills farther off is taken as
/// spilled.
bool touches_last_stretch(const Scene& scene, std::size_t facet);
bool is_last_stretch_clear(const Scene& scene);

}  // namespace optics
