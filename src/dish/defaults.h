// What a new thing starts with: facet type, mount, spring, receiver, secondary, and a whole dish.
#pragma once

#include "dish/dish.h"

namespace dish {

/// A hexagon of 230 mm across flats, spherical with a radius of twice the focal length.
FacetType default_facet_type(double focal_length_m = 2.0);

/// Three M6 push screws (lead 1 mm, right hand) turned from behind, on a circle of 80 mm radius at
/// 90, 210 and 330 degrees, labelled 1, 2, 3; held down by the default spring.
Mount default_mount();

/// A compression spring that pulls the facet back onto its screws. It neither goes slack nor
/// solid within the travel of the default mount.
Spring default_spring();

/// A disc of 200 mm at the focus, its lit side toward the facets.
Receiver default_receiver(double focal_length_m = 2.0);

/// A hyperboloid at four fifths of the focal length that sends the light down to a point a
/// twentieth of the focal length above the vertex.
Secondary default_secondary(double focal_length_m = 2.0);

/// 36 hexagons in three rings around an empty centre, on the paraboloid, with everything above
/// except a secondary.
Dish default_dish();

}  // namespace dish
