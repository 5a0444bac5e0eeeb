// How the dish stands in the yard: the world frame that camera, ground and person share.
// World: origin on the ground under the dish, x to the right for someone who looks at the mirror
// from in front, y away from that person, z up. Metres.
#pragma once

#include "base/vec.h"
#include "optics/scene.h"

namespace yard {

struct Ground {
  base::Pose world_from_dish;
  double reach_m = 1.0;       ///< radius about the axis that holds every facet
  base::Vec3 pivot_world{};   ///< where the post holds the dish: a little behind its vertex
  base::Vec3 person_world{};  ///< where the person of 1.75 m stands
};

/// The dish as it is shown: tilted up to a morning sun, its lowest edge clear of the ground. The
/// tilt is for the eye only; nothing is computed from it.
Ground stand_on_ground(const optics::Scene& scene);

inline constexpr double k_shown_elevation_rad = 0.60;
inline constexpr double k_person_height_m = 1.75;

}  // namespace yard
