// The chief ray of a small piece of facet and how the light about it spreads on the receiver's
// plane: to second moments, with the linear maps taken from neighbouring rays.
#pragma once

#include "base/vec.h"
#include "optics/facet_nodes.h"
#include "optics/path.h"
#include "optics/scene.h"

namespace optics {

/// A symmetric 2 x 2 matrix, m2.
struct Spread {
  double xx = 0.0, xy = 0.0, yy = 0.0;

  void add(const Spread& other) {
    xx += other.xx;
    xy += other.xy;
    yy += other.yy;
  }
  /// v v', the spread of unit variance along v.
  void add_square(const base::Vec2& v) {
    xx += v.x * v.x;
    xy += v.x * v.y;
    yy += v.y * v.y;
  }
  [[nodiscard]] double trace() const { return xx + yy; }
};

struct Cone {
  bool lands = false;
  Path chief;                   ///< of the piece's middle
  double watts = 0.0;           ///< sunlight that the piece catches
  base::Vec2 centre{0.0, 0.0};  ///< of its light: the chief's landing, moved by second-order terms
  Spread sun;                   ///< from the sun's disc alone
  Spread errors;                ///< from slope and specularity of all mirrors
  Spread piece;                 ///< from the piece's own size
};

/// Angles spread the reflected ray by sun^2/4 + 4 slope^2 + spec^2 in the plane of incidence and by
/// sun^2/4 + 4 slope^2 cos^2 i + spec^2 across it (a mirror turned across the plane of incidence
/// moves the ray by 2 cos i). Two pairs of rays at one standard deviation give the map from angle
/// to board and its even part; two pairs at one standard deviation of the piece do the same for it.
/// Leaves out third moments and the sun's own change of shape over the piece.
Cone cone_of(const Scene& scene, const SceneFacet& facet, const FacetNode& node);

/// Where the light of a point of the facet lands, all mirrors perfect and endless; false: nowhere.
bool land_chief(const Scene& scene, const SceneFacet& facet, const base::Vec2& uv, Path& path);

}  // namespace optics
