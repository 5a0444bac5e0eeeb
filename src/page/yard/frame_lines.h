// Rings and spokes behind the facets: where a frame would run. A hint for the eye, no more.
#pragma once

#include <vector>

#include "optics/scene.h"
#include "page/yard/ground.h"
#include "page/yard/palette.h"
#include "page/yard/ribbons.h"

namespace yard {

/// The frame follows the parent paraboloid of this focal length, as far back as the facets need.
/// Ends of struts that stand clear of it are joined to its outer ring.
void add_frame_lines(Ribbons& ribbons, const optics::Scene& scene, double focal_length_m,
                     const std::vector<base::Vec3>& struts_dish, const Ground& ground,
                     const Palette& palette);

}  // namespace yard
