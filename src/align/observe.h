// Where a facet's centre ray lands on a board, and the other way round: how a facet must stand for
// its spot to lie where it was seen.
#pragma once

#include "adjusters/screws.h"
#include "base/result.h"
#include "base/vec.h"
#include "dish/dish.h"

namespace align {

/// The light and the board of one round, made ready.
struct Sighting {
  dish::Source source = dish::SunSource{};
  base::Pose dish_from_board;      ///< x right, y up, z lit normal
  bool secondary_in_place = true;  ///< false: it was taken off for this round
};

/// Board of a round; the receiver's plane when it has none of its own.
Sighting sighting_of(const dish::Dish& dish, const dish::Round& round,
                     bool secondary_in_place = true);

/// Unit direction from a facet's centre to the light: the sun with its pointing error
/// unit(x, y, 1), the laser along the axis +z, and unit(L - C) for a lamp, an aimed laser or a
/// camera at L (its light, thought backwards, runs the same way).
base::Vec3 direction_to_source(const dish::Source& source, const base::Vec3& centre);

struct Mark {
  base::Vec2 board_m{0.0, 0.0};  ///< (right, up) as seen by someone who faces the lit side
  base::Vec3 point{0.0};         ///< the same in the dish frame
  bool by_secondary = false;
};

/// Chief ray forward: source, facet's centre, then the board on its lit side, or the secondary and
/// then the board, whichever the ray meets first. Problems name the facet and say why there is no
/// mark: light from behind, secondary missed (its rim widened by the facet's radius, because part
/// of the facet may still reach it), board missed or met from behind.
base::Result<Mark> expected_mark(const dish::Dish& dish, const dish::Facet& facet,
                                 const adjusters::FacePose& pose, const Sighting& sighting);

/// Inverse of `expected_mark`: unit normal of a facet at `centre` whose centre ray ends at `seen_m`
/// on the board. n = unit(s + o), o the direction that reaches the spot directly or off the
/// secondary. Source: derived, exact for any tilt.
/// Problems: a spot off any possible reflection, with why: on the wrong side of the board, where
/// the secondary cannot send light, or more than `k_most_tilt_rad` from the nominal normal.
base::Result<base::Vec3> normal_from_spot(const dish::Dish& dish, const dish::Facet& facet,
                                          const base::Vec3& nominal_normal,
                                          const base::Vec3& centre, const Sighting& sighting,
                                          const base::Vec2& seen_m);

/// No mount tilts a facet this far (14 degrees) from nominal; a reading that asks for more was
/// misread or belongs to another facet. Common practice, no source.
inline constexpr double k_most_tilt_rad = 0.25;

/// Unit normal that sends the design sun (on axis) from `centre` to the facet's aim, or the normal
/// the file gives the facet.
base::Result<base::Vec3> desired_normal(const dish::Dish& dish, const dish::Facet& facet,
                                        const base::Vec3& centre);

}  // namespace align
