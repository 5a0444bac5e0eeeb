// What a browser test may ask about the sitting, as one small JSON object.
#pragma once

#include <string>

#include "session/session.h"

namespace page {

/// {"stage", "dish", "revision", "facets", "selected", "screw", "hovered", "round", "spots",
///  "light": {"receiver_W", "intercept", "peak_W_m2", "centroid_mm": [x, y], "full"},
///  "turns": {screw label: turns} of the selected facet's correction, "full_parts", "notices"}
std::string report(const session::Session& session);

}  // namespace page
