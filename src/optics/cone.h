// How the light of a piece of facet spreads on the receiver's plane, to second
// moments: the chief rays are traced, the linear maps about them come from
// closed forms or neighbouring rays.
#pragma once

#include "base/vec.h"
#include "optics/facet_nodes.h"
#include "optics/path.h"
#include "optics/scene.h"
#include "optics/spread.h"

namespace optics {

/// Where the light of a point of the facet lands, all mirrors perfect and endless; false: nowhere.
bool land_chief(const Scene& scene, const SceneFacet& facet, const base::Vec2& uv, Path& path);

/// Where chief rays land as a function of the place on the facet, about its
/// middle: the quadratic through nine of them. Serves for the size of a piece's
/// image, never for its place.
struct FacetImage {
  bool lands = false;  ///< all nine did; else the maps are zero
  base::Vec2 du{0.0, 0.0}, dv{0.0, 0.0};
  base::Vec2 duu{0.0, 0.0}, duv{0.0, 0.0}, dvv{0.0, 0.0};
};
FacetImage facet_image(const Scene& scene, const SceneFacet& facet);

struct Cone {
  bool lands = false;
  Path chief;                   ///< of the piece's middle
  double watts = 0.0;           ///< sunlight that the piece catches
  base::Vec2 centre{0.0, 0.0};  ///< of its light: the chief's landing, moved by second-order terms
  Spread sun;                   ///< from the sun alone
  Spread errors;                ///< from slope and specularity of all mirrors
  Spread piece;                 ///< from the piece's own size
  /// Where the light meets the secondary moves by so much, in the plane across
  /// its axis, for one radian in the plane of incidence and across it; and the
  /// board's point with it.
  base::Mat2 rim_from_angle{0.0};
  base::Mat2 board_from_angle{0.0};
};

/// Angles spread the reflected ray by sun^2 + 4 slope^2 + spec^2 in the plane
/// of incidence and by sun^2 + 4 slope^2 cos^2 i + spec^2 across it, sun^2
/// being the sun's variance per axis (a mirror turned across the plane of
/// incidence moves the ray by 2 cos i). At the prime focus the map from angle
/// to board and its even part are closed forms, with a secondary they come from
/// two pairs of rays at one standard deviation. Leaves out third moments and
/// the sun's own change of shape over the piece.
Cone cone_of(const Scene& scene, const SceneFacet& facet, const FacetImage& image,
             const FacetNode& node);

}  // namespace optics
