// From a few places that a person pointed at in a photograph to where all others are in it.
#pragma once

#include <optional>
#include <vector>

#include "base/result.h"
#include "base/vec.h"
#include "photo/homography.h"

namespace photo {

/// A pinhole's view of a plane, fitted to places of it (m, right and up as the camera sees them).
struct PlacesInView {
  Homography homography;
  base::Mat3 image_from_plane{1.0};
  double residual_px = 0.0;  ///< root mean square over the places, both axes together
  double worst_px = 0.0;     ///< of the place that is farthest from where it was pointed at
  /// The place without which the others fit best; told of six or more, as four always fit.
  std::optional<std::size_t> worst;
  double sigma_px = 0.0;  ///< of a place that was pointed at, per axis
  /// The view with one coordinate of one pointed place moved by sigma_px, for each of them.
  std::vector<base::Mat3> nudged;
};

/// How well a person points, per axis; common practice, no source.
inline constexpr double k_pointing_sigma_px = 1.0;

/// Problems: those of homography_through (of the nudged views too), in the words of a person who
/// points.
base::Result<PlacesInView> view_of_places(const std::vector<MarkPair>& pointed);

/// Where a place of the plane is in the photo, px; nothing on or behind the horizon.
std::optional<base::Vec2> place_in_photo(const PlacesInView& view, const base::Vec2& plane_m);

/// How well the view tells a place, px per axis: what the nudges make of it, added in squares.
double sigma_px_at(const PlacesInView& view, const base::Vec2& plane_m);

/// Pixels for each metre at a place: the least over directions.
double px_per_m_at(const PlacesInView& view, const base::Vec2& plane_m);

}  // namespace photo
