// The log of alignment rounds: what was seen, with which light, on which board, and what was
// turned after it.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/vec.h"
#include "dish/ids.h"

namespace dish {

/// The sun, seen with a known pointing error of the dish (x, y), and its whole spot.
struct SunSource {
  base::Vec2 tracking_error_rad{0.0, 0.0};
  friend bool operator==(const SunSource&, const SunSource&) = default;
};
/// A laser parallel to the axis through the facet's centre.
struct LaserSource {
  friend bool operator==(const LaserSource&, const LaserSource&) = default;
};
/// A lamp at a point of the dish frame.
struct LampSource {
  base::Vec3 position_m{0.0, 0.0, 25.0};
  friend bool operator==(const LampSource&, const LampSource&) = default;
};
using Source = std::variant<SunSource, LaserSource, LampSource>;

/// A flat board the spots fall on, when it is not the receiver's own plane.
struct Board {
  base::Vec3 centre_m{0.0, 0.0, 2.0};
  base::Vec3 lit_normal{0.0, 0.0, -1.0};
  base::Vec3 up{0.0, 1.0, 0.0};
  friend bool operator==(const Board&, const Board&) = default;
};

/// Where one facet's spot was seen: (right, up) for a person who faces the board's lit side.
struct Spot {
  FacetId facet;
  base::Vec2 seen_m{0.0, 0.0};
  std::optional<double> sigma_m;  ///< per axis
  friend bool operator==(const Spot&, const Spot&) = default;
};

/// How far one screw was turned, clockwise as seen from where it is turned.
struct Turned {
  FacetId facet;
  std::string screw;
  double turns = 0.0;
  friend bool operator==(const Turned&, const Turned&) = default;
};

/// Errors that all facets share and that someone may choose to put right elsewhere (tracker,
/// receiver, frame): two shifts, spread, swirl, two saddles, in the order of align::Mode.
inline constexpr std::size_t k_common_modes = 6;
using LeftOut = std::array<bool, k_common_modes>;

struct Round {
  std::string name;
  Source source = SunSource{};
  std::optional<Board> board;  ///< absent: the receiver's plane
  std::vector<Spot> spots;
  std::vector<Turned> told;    ///< what the plan asked for; empty until someone turned by it
  std::vector<Turned> turned;  ///< what was done; empty until the person says so
  LeftOut left_out{};          ///< what the turns of this round leave to tracker and receiver
  std::string note;
  friend bool operator==(const Round&, const Round&) = default;
};

}  // namespace dish
