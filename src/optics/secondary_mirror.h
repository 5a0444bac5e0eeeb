// The secondary mirror made ready for light: where it stands, its quadric, its rim and its foci.
#pragma once

#include <optional>

#include "base/result.h"
#include "base/vec.h"
#include "dish/optics_parts.h"
#include "optics/quadric.h"

namespace optics {

/// Its own frame: origin at the vertex, +w the mirror side, toward the facets. Untilted, u = +x,
/// v = -y, w = -z of the dish; the tilt turns about x, then about y of the dish, at the vertex.
struct SecondaryMirror {
  base::Pose dish_from_secondary;
  Quadric surface;
  bool is_flat = true;
  double rim_radius_m = 0.0;
  double hole_radius_m = 0.0;
  std::optional<base::Vec3> near_focus;  ///< dish frame, moved with decentre and tilt
  std::optional<base::Vec3> far_focus;
  double reflectance = 1.0;
  double slope_error_rad = 0.0;
  double specularity_error_rad = 0.0;
};

/// Exact forms, with p = distance vertex to near focus, q = vertex to far focus:
///   hyperboloid (near focus beyond the mirror): curvature (q-p)/2pq, bulging toward the facets,
///     K = -((q+p)/(q-p))^2;
///   ellipsoid (near focus before the mirror): curvature (q+p)/2pq, hollow, K = -((q-p)/(q+p))^2.
/// Source: two-mirror telescope geometry (Rutten & van Venrooij, Telescope Optics, ch. 21).
/// Problems name the key: foci on the wrong side of the vertex, equal distances of a hyperboloid
/// (that is a flat), no radius, a hole as wide as the rim, a rim where the surface does not reach.
base::Result<SecondaryMirror> secondary_mirror(const dish::Secondary& secondary);

/// One meeting of a ray with the secondary's surface, in the dish frame.
struct SecondaryHit {
  double distance = 0.0;
  base::Vec3 point{0.0};
  base::Vec3 normal{0.0};       ///< toward the mirror side
  double rim_distance_m = 0.0;  ///< of the hit from its axis
};

/// Nearest hit beyond `least` that arrives on the mirror side, the surface thought endless:
/// the caller looks at the rim and the hole.
std::optional<SecondaryHit> hit_mirror_side(const SecondaryMirror& mirror, const base::Vec3& origin,
                                            const base::Vec3& direction, double least = 1e-9);

/// Whether the ray meets its glass (within rim, outside hole, either side) between two distances.
bool is_stopped_by(const SecondaryMirror& mirror, const base::Vec3& origin,
                   const base::Vec3& direction, double least, double most);

}  // namespace optics
