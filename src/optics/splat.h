// Laying the light of a chief ray on the map: a blurred ellipse of given power and spread.
#pragma once

#include <vector>

#include "base/vec.h"
#include "optics/cone.h"
#include "optics/cone_kernel.h"
#include "optics/scene.h"

namespace optics {

/// The square map that live light is laid on, and how much of each cell the receiver covers.
struct Canvas {
  int cells = 0;
  double width_m = 0.0;
  std::vector<float> cover;  ///< 0..1, by 8 x 8 points in cells that the edge may cut

  [[nodiscard]] double cell_m() const { return width_m / cells; }
};

Canvas make_canvas(const SceneReceiver& receiver, int cells, double width_m);

struct Splat {
  base::Vec2 centre{0.0, 0.0};
  Spread spread;
  double watts = 0.0;
};

/// Where a splat's light went.
struct Laid {
  double receiver_W = 0.0;
};

/// Adds the splat to `watts` (cells squared). Cells get the profile blurred by their own size;
/// power on the map is exact when the ellipse lies within it. What falls outside is added to
/// `outside` as points (right, up, watts), so that no light is lost. A receiver wider than the map
/// is met by points too.
Laid lay(const Canvas& canvas, const SceneReceiver& receiver, const ConeKernels::Profile& profile,
         const Splat& splat, std::vector<double>& watts, std::vector<base::Vec3>& outside);

}  // namespace optics
