// The three demo dishes of assets/demos, made by code: what is shown is what is tested.
#pragma once

#include "dish/dish.h"

namespace support {

/// Larch Refuge, a mountain hut that heats its wash water: 36 hexagons in three rings around an
/// empty centre, a hyperboloid secondary, a water-cooled plate near the vertex. Its screws stand a
/// few tenths of a millimetre off, and one round of spots has been seen.
dish::Dish larch_refuge();

/// Kiln Yard, a pottery that dries clay: 24 squares, flat inside and hollow outside, on a flat
/// lattice, prime focus, a square panel.
dish::Dish kiln_yard();

/// Orchard Dryer: two rings of petals around an open middle, and the mouth of a cavity at the
/// focus.
dish::Dish orchard_dryer();

/// Where the sun's chief ray by way of a facet's centre meets the plane of Larch Refuge's receiver,
/// (right, up) on the board, with the facet's screws where they stand. Reckoned on its own, without
/// the tracer: reflection at the plane through three screws, then at the hyperboloid.
base::Vec2 larch_refuge_spot(const dish::Dish& dish, const dish::Facet& facet,
                             const base::Vec2& tracking_error_rad);

}  // namespace support
