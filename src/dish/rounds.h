// The log of alignment rounds: what was seen or measured, with which light, on which board, and
// what was turned after it.
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
/// A laser that stands at a point and is aimed at the centre of each facet in turn.
struct AimedLaserSource {
  base::Vec3 position_m{0.0, 0.0, 6.0};
  friend bool operator==(const AimedLaserSource&, const AimedLaserSource&) = default;
};
/// No light at all but a look back: a camera at a point photographs the dish, and what stands for a
/// spot is the place of the board that is seen in the facet's centre. Light runs the same way in
/// both directions, so it is reckoned as a lamp where the camera's entrance pupil is.
struct CameraSource {
  base::Vec3 position_m{0.0, 0.0, 30.0};
  friend bool operator==(const CameraSource&, const CameraSource&) = default;
};
using Source = std::variant<SunSource, LaserSource, LampSource, AimedLaserSource, CameraSource>;

/// The point a source stands at; nullptr for those that are as good as infinitely far.
const base::Vec3* point_of(const Source& source);

/// The same source at another point; a source without a point stays as it is.
Source moved_to(const Source& source, const base::Vec3& position_m);

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

/// An inclinometer laid on a facet's face along a straight line. Its reading is how far that line
/// rises above the horizontal in the direction of `edge_rad`.
struct Lean {
  FacetId facet;
  double edge_rad = 0.0;  ///< from the facet's x axis, anticlockwise seen from the sun
  double reading_rad = 0.0;
  /// Read again with the instrument turned end for end: half the difference is free of its zero
  /// error.
  std::optional<double> reversed_rad;
  std::optional<double> sigma_rad;  ///< of one reading
  friend bool operator==(const Lean&, const Lean&) = default;
};

/// A height gauge or caliper held at a place of the bracket: how far the facet's back stands from
/// it along the screws' axis, toward the sun. Only differences between places count.
struct GaugeHeight {
  FacetId facet;
  base::Vec2 at_m{0.0, 0.0};  ///< (X, Y) on the bracket, as the screws' places are
  double height_m = 0.0;
  std::optional<double> sigma_m;
  friend bool operator==(const GaugeHeight&, const GaugeHeight&) = default;
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
  std::optional<double> elevation_rad;  ///< of the dish's axis: 0 horizon, pi/2 zenith
  std::vector<Lean> leans;
  std::vector<GaugeHeight> heights;
  std::vector<Turned> told;    ///< what the plan asked for; empty until someone turned by it
  std::vector<Turned> turned;  ///< what was done; empty until the person says so
  LeftOut left_out{};          ///< what the turns of this round leave to tracker and receiver
  std::string note;
  friend bool operator==(const Round&, const Round&) = default;
};

/// Whether anything was seen or measured in a round.
bool has_observations(const Round& round);

}  // namespace dish
