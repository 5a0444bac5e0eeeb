// One ray's way: from the sun to a point of a facet, off the mirrors, to where it ends.
#pragma once

#include "base/vec.h"
#include "optics/scene.h"

namespace optics {

inline constexpr double k_start_m = 1e-7;  ///< a ray leaves its surface before it meets another
inline constexpr double k_far_m = 1e9;     ///< beyond all that stands about a dish

/// What happened to the ray last.
enum class End {
  shaded,            ///< stopped before the facet
  blocked,           ///< stopped between two elements
  missed_secondary,  ///< past its rim, through its hole or onto its back
  lost,              ///< turned away from the receiver's plane, or arriving on its dark side
  landed             ///< on the receiver's plane, lit side
};

/// Small turns in radians, already drawn: of the normal (slope) and of the reflected ray.
struct Turns {
  base::Vec2 slope{0.0, 0.0};
  base::Vec2 specularity{0.0, 0.0};
  base::Vec2 secondary_slope{0.0, 0.0};
  base::Vec2 secondary_specularity{0.0, 0.0};
};

struct Path {
  End end = End::lost;
  bool met_secondary = false;
  base::Vec3 facet_point{0.0};      ///< dish frame
  base::Vec3 secondary_point{0.0};  ///< when met
  base::Vec3 last_direction{0.0};   ///< travelling, of the last stretch
  base::Vec2 board{0.0, 0.0};       ///< when landed, (right, up)
};

/// Which tests a path takes: none of them for a chief ray that only asks for directions.
struct Tests {
  bool shading = true;
  bool blocking = true;
  bool rim = true;  ///< false: the secondary is thought endless
};

/// A point of a facet, in the facet's frame, and the true normal there.
struct FacetPoint {
  base::Vec3 point{0.0};
  base::Vec3 normal{0.0, 0.0, 1.0};
};

FacetPoint facet_point(const Scene& scene, const SceneFacet& facet, const base::Vec2& uv);

/// Follows light that comes from the unit direction `sun` (dish frame) to the point.
Path follow(const Scene& scene, const SceneFacet& facet, const FacetPoint& start,
            const base::Vec3& sun, const Turns& turns, const Tests& tests);

/// The same from where the light has left the facet along `direction`.
Path go_on(const Scene& scene, const SceneFacet& facet, const base::Vec3& point,
           const base::Vec3& direction, const Turns& turns, const Tests& tests);

/// Whether a facet stands between a point of the secondary and the receiver's plane.
bool is_facet_before_receiver(const Scene& scene, const base::Vec3& point,
                              const base::Vec3& direction);

/// A unit vector tilted by small turns about two axes square to it: unit(n + a ex + b ey).
base::Vec3 tilted(const base::Vec3& n, const base::Vec2& turn);

}  // namespace optics
