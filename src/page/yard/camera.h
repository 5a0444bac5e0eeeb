// The eye that looks at the yard: it orbits a point, and it moves to named views.
#pragma once

#include <glm/mat4x4.hpp>

#include "base/vec.h"

namespace yard {

/// An eye at `distance_m` from `target`, looking at it. World frame (see ground.h).
struct Camera {
  base::Vec3 target{0.0, 0.0, 1.0};
  double azimuth_rad = 0.0;    ///< 0 in front of the dish (world -y), + to the person's right there
  double elevation_rad = 0.3;  ///< within +-k_steepest_rad
  double distance_m = 6.0;
};

inline constexpr double k_steepest_rad = 1.5;
inline constexpr double k_field_of_view_rad = 0.48;  ///< across the lesser side of the picture

/// A frame for the eye: right, up and toward the eye, in the world.
struct Eye {
  base::Vec3 place;
  base::Vec3 right;
  base::Vec3 up;
  base::Vec3 back;
};
Eye eye_of(const Camera& camera);

/// Size of the picture the camera fills, in any unit; only the ratio and pixel scale matter.
struct Picture {
  double width = 1.0;
  double height = 1.0;
};

/// Tangents of half the field of view, along width and height.
base::Vec2 half_tangents(const Picture& picture);

glm::dmat4 clip_from_world(const Camera& camera, const Picture& picture);

/// A point's place in the picture, from its top left corner, and its depth before the eye (m).
/// Behind the eye the depth is not positive and the place means nothing.
struct Projected {
  base::Vec2 place{0.0, 0.0};
  double depth_m = 0.0;
};
Projected project(const Camera& camera, const Picture& picture, const base::Vec3& point_world);

/// Unit direction from the eye through a place of the picture.
base::Vec3 direction_through(const Camera& camera, const Picture& picture, const base::Vec2& place);

/// Turns the eye about its target by a drag of so many pixels; a drag of the picture's lesser side
/// is half a circle.
Camera orbit(Camera camera, const Picture& picture, const base::Vec2& drag);

/// Shifts the eye so that what lies at the target's depth follows the pointer.
Camera pan(Camera camera, const Picture& picture, const base::Vec2& drag);

/// Goes `steps` nearer (+) or farther (-), keeping what is under `place` where it is.
Camera zoom(Camera camera, const Picture& picture, double steps, const base::Vec2& place,
            double reach_m);

/// Between two cameras, 0..1, the short way round.
Camera between(const Camera& from, const Camera& to, double share);

}  // namespace yard
