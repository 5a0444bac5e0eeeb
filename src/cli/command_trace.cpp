// facetwright trace: the dish under the sun, by rays.
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <thread>

#include "base/units.h"
#include "cli/commands.h"
#include "dish/edit.h"
#include "files/sag_map.h"
#include "tasks/trace_task.h"

namespace cli {
namespace {

tasks::TraceRequest read_request(const Given& given, Collected& collected) {
  tasks::TraceRequest request;
  optics::TraceSettings& trace = request.settings;
  trace.rays =
      collected.take(whole_of(given, "--rays", 1, tasks::k_most_rays)).value_or(trace.rays);
  trace.seed = collected.take(whole_of(given, "--seed", 0, ~0ULL)).value_or(trace.seed);
  trace.tracking_error_rad = sun_place_of(given, collected);
  trace.map_cells = static_cast<int>(
      collected
          .take(whole_of(given, "--map-cells", tasks::k_least_map_cells, tasks::k_most_map_cells))
          .value_or(static_cast<unsigned long long>(trace.map_cells)));
  trace.map_width_m = base::m_from_mm(
      collected.take(number_of(given, "--map-width-mm", {1.0, tasks::k_widest_map_mm}))
          .value_or(0.0));
  const unsigned cores = std::clamp(std::thread::hardware_concurrency(), 1U,
                                    static_cast<unsigned>(tasks::k_most_workers));
  trace.workers = static_cast<int>(
      collected.take(whole_of(given, "--workers", 1, tasks::k_most_workers)).value_or(cores));
  request.with_further_hits = given.has("--further-hits");
  if (const auto facet = given.text("--facet")) request.facet = dish::FacetId{*facet};
  return request;
}

/// The dish with a measured map on the traced facet, or on every type when all are traced.
base::Result<dish::Dish> with_sag_map(const Console& console, const std::string& path,
                                      const tasks::TraceRequest& request, dish::Dish dish) {
  const auto bytes = read_input(console, path, files::k_sag_map_cap_bytes);
  if (!bytes) return bytes.problems();
  auto read = files::read_sag_map(bytes.value(), path == "-" ? "standard input" : path);
  if (!read) return read.problems();
  const auto map = std::make_shared<const dish::SagMap>(std::move(read).value());
  if (request.facet) {
    return dish::apply(std::move(dish), dish::edit::SetFacetSagMap{*request.facet, map});
  }
  for (dish::FacetType type : std::vector<dish::FacetType>(dish.facet_types)) {
    type.form_error.sag_map = map;
    auto bent = dish::apply(std::move(dish), dish::edit::UpsertFacetType{std::move(type)});
    if (!bent) return bent.problems();
    dish = std::move(bent).value();
  }
  return dish;
}

std::string text_of(const tasks::TraceReply& reply, Form form) {
  if (form == Form::json) return tasks::json_text(reply);
  return form == Form::csv ? tasks::csv_text(reply) : tasks::report_text(reply);
}

}  // namespace

std::vector<Option> trace_options() {
  return {
      {"--rays", "N", fmt::format("Rays to trace, 1 to {}; default 1000000.", tasks::k_most_rays)},
      {"--seed", "S",
       "Which random points are used, 0 to 2^64 - 1; default 1. Same seed, same "
       "result to the last bit."},
      sun_x_option(),
      sun_y_option(),
      {"--facet", "ID", "Trace this facet alone (the others still shade and block)."},
      {"--sag-map", "MAP.csv",
       "Bend the traced facet, or all of them, by this measured map: a word and "
       "the u of each column, then rows of v and heights above the intended "
       "surface, all in mm."},
      {"--further-hits", "",
       "Also follow light that meets a second mirror on its way to its end, and count it."},
      {"--map", "OUT.csv", "Also write the flux map: right_mm,up_mm,flux_W_m2, one line a cell."},
      {"--map-cells", "N", "Cells along the map's longer side, 8 to 1024; default 128."},
      {"--map-width-mm", "W", "Width of the map, 1 to 100000 mm; default 1.6 times the receiver."},
      {"--workers", "N",
       "Threads, 1 to 256; default one for each core. The result does not depend "
       "on it."},
      json_option(),
      csv_option(),
      out_option(),
  };
}

int carry_out_trace(const Given& given, const Console& console) {
  Collected collected;
  const tasks::TraceRequest request = read_request(given, collected);
  const Form form = collected.take(form_of(given), Form::report);
  if (collected.any()) return report(console, collected.problems());
  auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  if (const auto path = given.text("--sag-map")) {
    dish = with_sag_map(console, *path, request, std::move(dish).value());
    if (!dish) return report(console, dish.problems());
  }
  const auto reply = tasks::run(dish.value(), request, progress_of(console, "tracing"));
  end_progress(console);
  if (!reply) return report(console, as_options(reply.problems(), trace_options()));
  if (const auto path = given.text("--map")) {
    const auto written = write_whole(*path, tasks::map_csv_text(reply.value().result.map));
    if (!written) return report(console, written.problems());
  }
  return deliver(console, given, text_of(reply.value(), form));
}

}  // namespace cli
