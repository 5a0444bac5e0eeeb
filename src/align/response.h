// How far a facet's spot moves for one turn of each of its screws, by exact differences; and the
// same if screws sit elsewhere, turn the other way or have another thread than the file says.
#pragma once

#include <array>
#include <cstddef>

#include "align/facet_setup.h"
#include "align/observe.h"
#include "base/result.h"

namespace align {

/// Spot shift on the board, (right, up) in m, for one clockwise turn of each screw.
using Response = std::array<base::Vec2, 3>;
using Turns = std::array<double, 3>;

/// How the hardware may differ from what the file says of it.
struct Wiring {
  std::array<std::size_t, 3> moves{0, 1, 2};  ///< label k turns the screw at this place
  std::array<int, 3> sense{1, 1, 1};          ///< -1: it moves the other way
  double frame_turn_rad = 0.0;                ///< the screws stand turned about the facet's normal
  bool frame_mirrored = false;                ///< and mirrored before, left for right
  double lead_factor = 1.0;                   ///< thread against the file's
};

/// Where a screw stands that the file has at `from_foot` of the face's foot: mirrored, then turned.
base::Vec2 place_under(const Wiring& wiring, const base::Vec2& from_foot);

/// Central differences of the exact mark by each screw, at displacements from nominal; the facet's
/// plane stays what the displacements say even when `wiring` puts the screws elsewhere.
/// Problems: as in `expected_mark`.
base::Result<Response> response_of(const FacetSetup& setup, const Sighting& sighting,
                                   const std::array<double, 3>& displacement_m,
                                   const Wiring& wiring = {});

/// Labels and senses only: column k is sense_k times column moves_k.
Response rewired(const Response& nominal, const Wiring& wiring);

/// F t.
base::Vec2 shift_of_turns(const Response& response, const Turns& turns);

/// Which three corner rises one turn of each screw makes, when the spot moves by `learned` instead
/// of by `nominal`: diag(g) + pinv(F per rise) (learned - nominal). Row: corner; column: screw. The
/// correction has no common rise, which no spot can tell.
using RisePerTurn = std::array<std::array<double, 3>, 3>;
RisePerTurn rise_per_turn_of(const std::array<double, 3>& nominal_rise_m, const Response& nominal,
                             const Response& learned);

}  // namespace align
