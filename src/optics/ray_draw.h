// What the coordinates of one low-discrepancy point mean for a ray: place on the facet (0, 1),
// place on the sun (2, 3), then the errors' deviates.
#pragma once

#include "optics/path.h"
#include "optics/scene.h"

namespace optics {

inline constexpr int k_ray_dimensions = 12;
inline constexpr int k_prime_dimensions = 8;  ///< without a secondary

/// A direction in proportion to the sun's light in projected solid angle. L cos dw is then DNI
/// times an even share, so the mean over the sun is exact for every tilt of the receiving surface.
base::Vec3 sun_ray(const Scene& scene, double x, double y);

/// Gaussian turns of the facet's errors and, with a secondary, of its errors, from x[4] on.
Turns draw_turns(const Scene& scene, const SceneFacet& facet, const double* x);

/// Within the receiver's edge.
bool is_on_receiver(const SceneReceiver& receiver, const base::Vec2& board);

}  // namespace optics
