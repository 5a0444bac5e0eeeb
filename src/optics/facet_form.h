// How a facet's surface differs from its quadric: what is added to a point's height and slopes.
#pragma once

#include "dish/form_error.h"
#include "optics/outline.h"

namespace optics {

/// Made once for each facet type, and for each facet with a map of its own.
struct FacetForm {
  dish::FormError error;
  double radius_m = 1.0;       ///< what the low-order terms are measured at
  double most_height_m = 0.0;  ///< bounds over the facet
  double most_slope = 0.0;
};

struct FormOffset {
  double height_m = 0.0;  ///< along the facet's normal, + toward the sun
  double slope_u = 0.0;   ///< its derivatives
  double slope_v = 0.0;
};

FacetForm make_facet_form(const dish::FormError& error, const Edge& edge);

/// Sum of the low-order terms (dish/form_error.h says how they are scaled), the roll-off and the
/// map. The map is bicubic with slopes from central differences (Catmull-Rom), so heights and
/// slopes have no steps; it goes on straight beyond its rim.
FormOffset form_offset(const FacetForm& form, const Edge& edge, double u, double v);

}  // namespace optics
