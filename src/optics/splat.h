// Laying the light of a chief ray on a tile: a blurred ellipse of given power and spread.
#pragma once

#include <optional>
#include <vector>

#include "base/vec.h"
#include "optics/cone_kernel.h"
#include "optics/light_map.h"
#include "optics/spread.h"

namespace optics {

/// A straight edge that the light does not pass: kept is what lies before it.
struct SplatEdge {
  base::Vec2 outward{1.0, 0.0};  ///< unit
  double distance_m = 0.0;       ///< from the splat's centre, negative when that lies beyond
};

struct Splat {
  base::Vec2 centre{0.0, 0.0};
  Spread spread;
  double watts = 0.0;  ///< before the edge took its share
  std::optional<SplatEdge> edge;
};

/// Moments of what an edge leaves of a splat, taken as Gaussian.
struct SplatMoments {
  base::Vec2 centre{0.0, 0.0};
  Spread spread;
};
SplatMoments moments_of(const Splat& splat);

/// Cells hold means over themselves, which spreads light by a twelfth of their
/// side squared, along each axis.
Spread cell_spread(const Canvas& canvas);

/// Lays the splats of one facet, all with the same profile, and keeps account.
class SplatLayer {
 public:
  SplatLayer(const Canvas& canvas, const SceneReceiver& receiver, const ConeProfile& profile,
             Tile& tile)
      : canvas_(canvas), receiver_(receiver), profile_(profile), tile_(tile) {}

  /// What the splat's edge takes, 0..1.
  [[nodiscard]] double share_cut_off(const Splat& splat) const;

  /// The profile is blurred by the cells' own size. A spot below the cells' resolution is widened
  /// to it.
  void lay(const Splat& splat);

  /// What to multiply the tile by, so that its sum is the power laid on it exactly.
  [[nodiscard]] double scale() const { return laid_W_ > 0.0 ? meant_W_ / laid_W_ : 1.0; }

  /// Puts what fell beyond the map on the tile as points, and answers the light
  /// within the receiver's edge.
  double finish();

 private:
  /// A splat that reaches beyond the map, or that a piece of the map does not show.
  struct Cut {
    Splat splat;
    double kept_W = 0.0;
    double laid_W = 0.0;
  };
  void add_outside(const Cut& cut, double missing_W);

  const Canvas& canvas_;
  const SceneReceiver& receiver_;
  const ConeProfile& profile_;
  Tile& tile_;
  double meant_W_ = 0.0;  ///< of the splats that lie wholly on the map
  double laid_W_ = 0.0;
  std::vector<Cut> cut_;
};

}  // namespace optics
