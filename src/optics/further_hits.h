// Light that meets a second mirror on its way is booked as blocked by every trace. Here it is
// followed to its end, to tell how many watts that leaves out.
#pragma once

#include <cstdint>

#include "base/progress.h"
#include "optics/scene.h"

namespace optics {

struct FurtherHits {
  double stopped_W = 0.0;   ///< what a trace books as blocked, or as past the secondary
  double mirrored_W = 0.0;  ///< of it, what met another mirror's reflecting side
  double receiver_W = 0.0;  ///< of that, what came to the receiver after all, losses taken off
  double standard_error_W = 0.0;  ///< of receiver_W
  int most_hits = 0;              ///< mirrors that one ray met after its facet
};

/// Follows rays drawn as the full trace draws them; those it would give up go on from mirror to
/// mirror (facets, both sides told apart, and the secondary), at most 32 of them, until they meet
/// the receiver, something that stops them, or nothing. Facets' quadrics, without their errors,
/// after the first. Cost: every stopped ray looks at all facets. Cancelled: what was counted so
/// far.
FurtherHits follow_further(const Scene& scene, std::uint64_t rays, std::uint64_t seed,
                           const base::Progress& progress = {});

}  // namespace optics
