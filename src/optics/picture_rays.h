// Rays for the eye: a few of a facet's, followed without errors to where they end.
#pragma once

#include <vector>

#include "optics/path.h"
#include "optics/scene.h"

namespace optics {

struct PictureRay {
  End end = End::lost;
  std::vector<base::Vec3> points;  ///< sun side, facet, [secondary,] end; dish frame
};

/// `count` rays spread evenly over a facet's outline, each from the sun's middle; the first one
/// starts at the facet's centre. A ray that is stopped ends at its last mirror.
std::vector<PictureRay> picture_rays(const Scene& scene, std::size_t facet, int count);

}  // namespace optics
