// What tells how a facet stands, whatever it was measured with: a spot on a board, an inclinometer
// or a height gauge. All of them end as a normal with its uncertainty, and go one way from there.
#pragma once

#include <functional>
#include <variant>
#include <vector>

#include "align/facet_setup.h"
#include "align/observe.h"
#include "base/result.h"
#include "base/vec.h"
#include "dish/rounds.h"

namespace align {

/// A spot, or the board point that a camera sees in the facet: (right, up).
struct SeenSpot {
  base::Vec2 at_m{0.0, 0.0};
};
struct ReadLeans {
  std::vector<dish::Lean> leans;
  double elevation_rad = 0.0;  ///< of the dish's axis
};
struct GaugedHeights {
  std::vector<dish::GaugeHeight> heights;
};
/// Everything that was observed of one facet with one instrument.
using Observation = std::variant<SeenSpot, ReadLeans, GaugedHeights>;

/// Sigmas of readings that bring none.
struct ReadingSigmas {
  double spot_m = 0.002;       ///< per axis
  double lean_rad = 0.001745;  ///< 0.1 degree. Source: usual claim of digital levels
  double height_m = 0.00005;   ///< a caliper's. Common practice, no source
};

/// The facet's actual normal as a function of where its centre is and of the two numbers that the
/// reading may be wrong by.
struct Evidence {
  /// Unit normal for a centre, with the reading changed by `step` (in its own two units).
  std::function<base::Result<base::Vec3>(const base::Vec3& centre, const base::Vec2& step)>
      normal_at;
  base::Mat2 one_sigma{0.0};  ///< columns: two independent steps of one standard deviation
  double misfit = 0.0;        ///< rms of what is left over, in sigmas; 0 with nothing left over
};

/// n = unit(s + o), see `normal_from_spot`. The step is a shift of the spot, m right and up.
Evidence evidence_of(const FacetSetup& setup, const Sighting& sighting, const SeenSpot& spot,
                     double sigma_m);

/// A reading is asin(e.u): e = F(n, clocking) (cos edge, sin edge, 0) along the instrument, u the
/// upward direction (0, cos E, sin E) in the dish's frame at elevation E of its axis. Two readings
/// give the normal exactly (Newton), more of them by least squares. Each pair read both ways counts
/// as (reading - reversed) / 2. The step is a tilt, rad, along the facet's own axes.
/// Source: derived; exact for edges along x and y of a dish that points at the zenith.
/// A turn about the vertical cannot be read: uncertainty grows as 1 / (u.n) toward the horizon.
/// Problems name the facet: fewer than two readings, all along nearly one direction, a facet too
/// nearly upright, readings that no tilt within `k_most_tilt_rad` explains.
base::Result<Evidence> evidence_of(const FacetSetup& setup, const ReadLeans& read,
                                   double sigma_rad);

/// Least-squares plane w = h0 + alpha X + beta Y over the bracket; the facet's back is parallel to
/// it. Covariance of the slopes from the sigmas: for three places at even angles on a radius r it
/// is sigma sqrt(2/3) / r per axis. The step is a change of (alpha, beta). Source: derived.
/// Problems name the facet: fewer than three places, places in a line, a tilt beyond
/// `k_most_tilt_rad`.
base::Result<Evidence> evidence_of(const FacetSetup& setup, const GaugedHeights& gauged,
                                   double sigma_m);

/// The one of the three that fits the observation.
base::Result<Evidence> evidence_of(const FacetSetup& setup, const Sighting& sighting,
                                   const Observation& observation, const ReadingSigmas& sigmas);

/// What must not be done with this source; empty for one that needs no word of its own.
const char* caution_of(const dish::Source& source);

}  // namespace align
