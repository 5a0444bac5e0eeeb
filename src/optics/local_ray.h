// A ray as it is seen from an element's own frame.
#pragma once

#include "base/vec.h"

namespace optics {

struct LocalRay {
  base::Vec3 origin{0.0};
  base::Vec3 direction{0.0};

  [[nodiscard]] base::Vec2 at(double distance) const {
    return {origin.x + distance * direction.x, origin.y + distance * direction.y};
  }
};

inline LocalRay local_ray(const base::Pose& pose, const base::Vec3& origin,
                          const base::Vec3& direction) {
  return {base::point_to_inner(pose, origin), base::direction_to_inner(pose, direction)};
}

}  // namespace optics
