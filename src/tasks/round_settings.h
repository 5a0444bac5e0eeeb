// What was seen and measured, as settings of a request.
#pragma once

#include "dish/dish.h"
#include "tasks/settings.h"

namespace tasks {

/// The round of a request: "round" (one of the dish, by name or "last"), or spots, leans and
/// heights as rows ("spots", "leans", "heights") or as tables ("spots_csv", "leans_csv",
/// "heights_csv"), with "elevation_deg". Light and board are read by others.
dish::Round read_round(Settings& settings, const dish::Dish& dish);

}  // namespace tasks
