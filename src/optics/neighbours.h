// Which facets and obstacles can stand in whose light: found once for a scene, through a uniform
// grid over the aperture, so that every ray of a facet looks at a short list only.
#pragma once

#include "optics/scene.h"

namespace optics {

/// Directions within `half_angle_rad` of `axis`, from anywhere within `source`.
struct Beam {
  Sphere source;
  base::Vec3 axis{0.0, 0.0, 1.0};
  double half_angle_rad = 0.0;
};

/// Whether any ray of the beam can touch the sphere. Exact for the swept cone, so conservative for
/// what the sphere bounds. A half angle of a quarter turn or more always can.
bool can_touch(const Beam& beam, const Sphere& target);

/// The beam toward the sun; holds every sampled sun direction.
Beam shading_beam(const Scene& scene, const SceneFacet& facet);

/// The reflected beam. The half angle holds the sun, twice the turn of the normal over the facet,
/// and errors out to the farthest deviate that 32 random bits can give.
Beam blocking_beam(const Scene& scene, const SceneFacet& facet);

/// Fills candidates and the spans of all facets. With `cull` false everything lists everything.
void find_candidates(Scene& scene, bool cull);

/// The same after facet `moved` alone took another pose; move.facet is what it was before. Notes
/// the facets that list it now or did before, in rising order.
void update_candidates(Scene& scene, std::size_t moved, SceneMove& move);

}  // namespace optics
