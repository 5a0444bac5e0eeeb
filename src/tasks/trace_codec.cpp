// Reads a trace request's settings.
#include "base/units.h"
#include "tasks/codec.h"
#include "tasks/trace_task.h"

namespace tasks {

base::Vec2 read_sun_place(Settings& settings) {
  const double most = k_most_tracking_error_mrad;
  const auto x = settings.number("sun_x_mrad", -most, most);
  const auto y = settings.number("sun_y_mrad", -most, most);
  return {base::rad_from_mrad(x.value_or(0.0)), base::rad_from_mrad(y.value_or(0.0))};
}

TraceRequest read_trace_request(Settings& settings) {
  TraceRequest request;
  optics::TraceSettings& trace = request.settings;
  if (const auto rays = settings.whole("rays", 1, k_most_rays)) trace.rays = *rays;
  if (const auto seed = settings.whole("seed", 0, ~std::uint64_t{0})) trace.seed = *seed;
  trace.tracking_error_rad = read_sun_place(settings);
  if (const auto cells = settings.whole("map_cells", k_least_map_cells, k_most_map_cells)) {
    trace.map_cells = static_cast<int>(*cells);
  }
  if (const auto width = settings.number("map_width_mm", 0.0, k_widest_map_mm)) {
    trace.map_width_m = base::m_from_mm(*width);
  }
  if (const auto workers = settings.whole("workers", 1, k_most_workers)) {
    trace.workers = static_cast<int>(*workers);
  }
  if (const auto facet = settings.text("facet")) request.facet = dish::FacetId{*facet};
  if (const auto map = settings.yes_or_no("map")) request.with_map = *map;
  if (const auto further = settings.yes_or_no("further_hits")) {
    request.with_further_hits = *further;
  }
  return request;
}

base::Result<std::string> answer_trace(const Call& call) {
  const TraceRequest request = read_trace_request(call.settings);
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
