// How near a ray passes to the edge of what may stand in its way, so that shadows can be soft.
#pragma once

#include <cstdint>
#include <optional>

#include "base/vec.h"
#include "optics/scene.h"

namespace optics {

/// Where a ray meets the plane or surface of an occluder thought endless.
struct EdgeMeeting {
  double distance_m = 0.0;  ///< along the ray; negative: behind its start
  double inside_m = 0.0;    ///< to the nearest edge, square to the ray; negative: it passes outside
  /// Moving the ray by x, square to it, moves it outward by dot(x, outward). Not a unit vector: an
  /// edge seen obliquely is nearer.
  base::Vec3 outward{0.0};
  /// Moving the ray by a metre square to it changes `inside_m` by no more than this many metres,
  /// whichever edge is the nearest then (on curved glass: of its tangent plane at the middle).
  double most_change = 1.0;
};

/// Candidate `code` of the scene. Nothing when the ray never meets its plane after its start.
/// Curved glass is met where it is, an outline by its nearest side; boxes and tubes by their
/// silhouette; the secondary by its rim (its hole is thought closed unless the ray passes well
/// within it).
std::optional<EdgeMeeting> meet_edge(const Scene& scene, std::uint32_t code,
                                     const base::Vec3& origin, const base::Vec3& direction);

/// Sphere around a candidate.
const Sphere& bounds_of_candidate(const Scene& scene, std::uint32_t code);

}  // namespace optics
