// Spots spread on purpose: every facet is turned so that its spot has a place of its own at the
// focus, a map of the dish, and one photograph names them all (see naming/tilt_array).
#pragma once

#include "session/session.h"

namespace session {

/// Distance between neighbouring spots that is asked for, and the least that is of use. In
/// simulation every spot of a dish set by caliper (3 mrad per axis) is named right from 75 mm on;
/// wider arrays cost accuracy when they are brought together (see README, "How well it aligns").
inline constexpr double k_spread_pitch_m = 0.1;
inline constexpr double k_least_spread_m = 0.04;

/// True when spots can be spread: the shown round is no spread that waits to be turned.
bool can_spread(const Session& session);

}  // namespace session
