// The light a dish is judged by, in words and as JSON.
#pragma once

#include <string>

#include "dish/optics_parts.h"
#include "tasks/json.h"

namespace tasks {

/// "an even disc, half angle 4.65 mrad"; "a disc of half angle 4.65 mrad with 5 % of the light
/// around it".
std::string sun_words(const dish::Sun& sun);

/// shape (as in the dish file), half_angle_mrad where the shape has a disc, and what else the shape
/// takes.
Json sun_json(const dish::Sun& sun);

}  // namespace tasks
