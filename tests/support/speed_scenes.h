// Three dishes of any number of facets, the same for benchmarks and for the tests of accuracy:
// neighbours out of each other's way, neighbours that block, and two mirrors.
#pragma once

#include "dish/dish.h"

namespace support {

enum class SpeedScene {
  dish,        ///< centres on the parent paraboloid, receiver at its focus before a wide housing
  flat_frame,  ///< the same with all centres on a plane, so that neighbours block
  two_mirror   ///< a hyperboloid that also shades, receiver near the vertex, magnification 3.25
};

struct SpeedOptions {
  double slope_error_rad = 0.002;
  bool is_flat = false;  ///< facets flat instead of spheres of R = twice the distance to the focus;
                         ///< the receiver is then wide enough for their images
};

/// Hexagons with gaps of 10 mm, focal ratio 0.6: the `facets` places of a hexagonal lattice that
/// lie nearest to the axis. Across flats 0.5 m up to 37 facets, 0.4 m up to 127, 0.25 m up to 500,
/// 0.18 m beyond. Sun an even disc of 4.65 mrad, specularity 0.5 mrad.
dish::Dish speed_scene(SpeedScene scene, std::size_t facets, const SpeedOptions& options = {});

}  // namespace support
