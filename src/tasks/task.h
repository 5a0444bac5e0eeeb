// Every answer the tool can give has the same shape here: a request as JSON text in, a reply as
// JSON text out. The native program, the page and the worker all come through this door.
#pragma once

#include <string>
#include <string_view>

#include "base/progress.h"
#include "base/result.h"

namespace tasks {

/// Carries out a request: {"task": NAME, "dish": {...dish file...}, ...settings}. Known tasks:
/// "check", "trace", "trace_part", "preset", "align", "rounds", "budget", "form", "optimise";
/// without a dish "new", "board" and "spots". The reply is the JSON that the headless program
/// prints with
/// --json for the same request. Pixels of photos follow the JSON of "spots" after one zero byte:
/// {"task": "spots", "board": {"width_mm", "height_mm", "mark_mm"}, "photos": [{"name", "width_px",
/// "height_px", "channels": 1 | 3 | 4, "bytes"}], "reference": index of the photo of the covered
/// dish, "spot_mm": expected diameter, "marks": [{"photo": index, "mark": "top left", "x_px",
/// "y_px"}] where a person pointed at them}.
base::Result<std::string> run(std::string_view request, const base::Progress& progress = {});

/// The same for a worker: problems come back as {"problems": [{place, value, expected}]}.
std::string run_to_text(std::string_view request, const base::Progress& progress = {});

}  // namespace tasks
