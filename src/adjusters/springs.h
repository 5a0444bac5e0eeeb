// The spring at a screw: how long and how strong it is when the screw is displaced, and how far
// the screw may go before travel or spring end.
#pragma once

#include "dish/mount.h"

namespace adjusters {

enum class SpringState {
  none,   ///< no spring is described
  slack,  ///< longer than its free length: the facet rattles
  low,    ///< still pushes, with less than the least force
  ok,
  near_solid,  ///< within the last tenth of its stroke
  solid,       ///< coil on coil: the screw would bend something
};

struct SpringReading {
  SpringState state = SpringState::none;
  double length_m = 0.0;
  double force_N = 0.0;  ///< never negative
};

/// A closed interval; empty when least > most.
struct Interval {
  double least = 0.0;
  double most = 0.0;
};

/// Share of the stroke from free to solid that is left unused before the coils touch.
/// Common practice (a tenth of the stroke), no source.
inline constexpr double k_solid_reserve = 0.1;

/// Sign of the displacement that increases the spring's force: -1 where the spring pushes the
/// facet to the sun and the screw holds it back, +1 where the screw pushes against the spring;
/// 0 when no spring is described. The last move of a screw goes this way.
int loading_direction(const dish::Spring* spring);

/// Length and force at a displacement from nominal (+ to the sun). Linear spring; a spring that
/// pushes to the sun gets longer as its screw moves to the sun, the other kind shorter.
SpringReading spring_at(const dish::Spring* spring, double displacement_m);

/// Displacements at which the screw stays within its travel and its spring between its least
/// force and its reserve before solid. Empty when the two have nothing in common.
Interval working_range(const dish::Adjuster& adjuster, const dish::Spring* spring);

/// "slack", "low force", "in order", "nearly solid", "solid", "no spring described".
const char* to_text(SpringState state);

}  // namespace adjusters
