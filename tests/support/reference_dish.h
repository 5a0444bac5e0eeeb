// Dishes that the alignment tests share: 36 hexagons with focal length 2 m, and single facets.
#pragma once

#include <array>
#include <string>

#include "dish/dish.h"

namespace support {

/// Right-hand push screws, lead 1 mm, at 90, 210 and 330 degrees on a circle of 80 mm, turned from
/// the back; wide travel and no spring.
dish::Mount reference_mount();

/// Rings 1 to 3 of a hexagonal grid (pitch 250 mm, corner facets of ring 3 at 750 mm), facets on
/// the parent paraboloid z = r^2 / (4 f), f = 2 m, aimed at a receiver in the focus.
dish::Dish reference_dish();

/// One facet at a place of its own on the reference mount; id "A1".
dish::Dish one_facet_dish(const base::Vec3& centre_m);

}  // namespace support
