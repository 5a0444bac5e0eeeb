// A facet's own surface as a quadric in its own frame.
#pragma once

#include "base/vec.h"
#include "dish/facet.h"
#include "optics/quadric.h"

namespace optics {

/// For an off-axis paraboloid that does not say its place, the place is the facet's nominal centre
/// and the meridian the projection of the outward radius on the facet's nominal tangent plane.
Quadric facet_quadric(const dish::Surface& surface, const dish::Facet& facet,
                      const base::Vec3& nominal_normal);

}  // namespace optics
