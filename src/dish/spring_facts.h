// How long a spring is and how hard it pushes when its screw stands somewhere else than nominal.
#pragma once

#include "dish/mount.h"

namespace dish {

/// Sign of the displacement that compresses the spring, and so increases its force.
/// A spring that pulls the facet toward the bracket (the facet rests on push screws) is compressed
/// when the facet moves toward the sun: +1. A spring that pushes the facet toward the sun (the
/// screws hold it back) is compressed when it moves toward the bracket: -1.
/// Source: derived; a compression spring's force is rate * (free length - length).
int loading_direction(const Spring& spring);

/// Length at a displacement from nominal (toward the sun positive):
/// installed - loading_direction * displacement.
double spring_length_m(const Spring& spring, double displacement_m);

/// Force at that length: rate * (free - length), and zero once the spring is longer than free.
double spring_force_N(const Spring& spring, double displacement_m);

}  // namespace dish
