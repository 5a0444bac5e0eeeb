// One facet's light without noise: its pieces' chief rays, each blurred by the sun and the errors.
#pragma once

#include <array>
#include <vector>

#include "base/vec.h"
#include "optics/cone_kernel.h"
#include "optics/light_map.h"
#include "optics/scene.h"
#include "optics/trace_result.h"

namespace optics {

/// One facet's light in the receiver's plane.
struct FacetSpot {
  double plane_W = 0.0;
  double receiver_W = 0.0;
  base::Vec2 centroid_m{0.0, 0.0};
  base::Vec2 chief_m{0.0, 0.0};  ///< where the centre ray lands
  bool chief_lands = false;
  std::array<double, 3> covariance_m2{0.0, 0.0, 0.0};  ///< right-right, right-up, up-up
  std::vector<base::Vec3> chief_path;  ///< sun side, facet, [secondary,] end; dish frame
  Ledger ledger;                       ///< its own watts; incident, gaps and cosine left 0
};

/// What every facet of an evaluation is lit with.
struct Lighting {
  const Scene& scene;
  const Canvas& canvas;
  ConeKernels& kernels;
  bool is_last_stretch_clear = true;  ///< nothing stands between the secondary and the receiver
};

/// The facet's light laid on an empty tile, and its account. The tile's cells
/// are to be multiplied by `scale`. A function of the scene alone: doing it
/// again gives the same bits.
struct FacetLight {
  FacetSpot spot;
  double scale = 1.0;
};
FacetLight light_facet(const Lighting& lighting, std::size_t index, Tile& tile);

/// All the sunlight that a facet's outline catches.
double caught_by(const Ledger& own);

}  // namespace optics
