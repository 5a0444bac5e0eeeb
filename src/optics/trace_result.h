// What a trace answers: map, figures, and an account of every watt.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "base/vec.h"
#include "dish/ids.h"

namespace optics {

/// Square cells over a rectangle of the receiver's plane, row 0 at the bottom (up = least).
struct FluxMap {
  int columns = 0;                ///< along right
  int rows = 0;                   ///< along up
  base::Vec2 centre_m{0.0, 0.0};  ///< (right, up) of the middle
  base::Vec2 size_m{0.0, 0.0};    ///< whole width and height
  std::vector<double> flux_W_m2;  ///< rows * columns, on the receiver's plane

  [[nodiscard]] double at(int column, int row) const {
    return flux_W_m2[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                     static_cast<std::size_t>(column)];
  }
};

/// Every watt of sunlight on the gross aperture ends in exactly one account. The sum of all but
/// `incident` equals `incident` to rounding.
struct Ledger {
  double incident_W = 0.0;  ///< DNI times the gross aperture (convex outline of facets)
  double cosine_W = 0.0;    ///< lost because the dish does not face the sun squarely
  double gaps_W = 0.0;      ///< between facets; negative where they overlap
  double shading_W = 0.0;   ///< stopped before a facet (blockers, secondary, receiver, facets)
  double facet_absorption_W = 0.0;
  double blocking_W = 0.0;  ///< stopped after a facet, before the next element
  double secondary_missed_W = 0.0;
  double secondary_absorption_W = 0.0;
  double spillage_W = 0.0;  ///< past the receiver's edge, or never reaching its plane
  double receiver_reflection_W = 0.0;
  double receiver_absorbed_W = 0.0;
};

struct FacetFigures {
  dish::FacetId id;
  double power_W = 0.0;             ///< on the receiver
  base::Vec2 centroid_m{0.0, 0.0};  ///< (right, up) of all its light in the receiver's plane
  double rms_radius_m = 0.0;        ///< about its own centroid
  double lit_fraction = 1.0;        ///< of the light its outline catches, not shaded nor blocked
};

struct TraceResult {
  std::uint64_t rays = 0;
  std::uint64_t seed = 0;
  double dni_W_m2 = 0.0;
  double gross_aperture_m2 = 0.0;
  double mirror_area_m2 = 0.0;  ///< facets, projected on the aperture plane
  Ledger ledger;
  double power_reflected_W = 0.0;   ///< leaving the facets
  double power_plane_W = 0.0;       ///< crossing the receiver's plane on its lit side
  double power_receiver_W = 0.0;    ///< within the receiver's edge
  double standard_error_W = 0.0;    ///< of power_receiver, from independent replicates
  std::vector<double> copies_W;     ///< power_receiver of each independent copy of the points, as
                                    ///< if it were the whole; traces of the same seed and count
                                    ///< share their points, so differences of these have less noise
  double intercept_factor = 0.0;    ///< receiver / plane
  double optical_efficiency = 0.0;  ///< receiver / sunlight on the gross aperture
  base::Vec2 centroid_m{0.0, 0.0};
  base::Vec2 rms_m{0.0, 0.0};  ///< standard deviation along right and up
  double peak_W_m2 = 0.0;      ///< greatest mean over a disc a tenth as wide as the receiver
  double peak_concentration = 0.0;
  double mean_concentration = 0.0;  ///< over the receiver's face
  std::array<double, 3> radius_m{0.0, 0.0,
                                 0.0};  ///< 50, 90, 95 % of the plane's power, about the centroid
  std::vector<FacetFigures> facets;
  FluxMap map;
};

}  // namespace optics
