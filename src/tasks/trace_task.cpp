// Runs the full trace and lays its figures out as JSON, report and CSV.
#include "tasks/trace_task.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/units.h"
#include "tasks/codec.h"
#include "tasks/facets.h"
#include "tasks/json.h"
#include "tasks/sun_words.h"
#include "tasks/table.h"

namespace tasks {
namespace {

/// Where light went that did not reach the receiver, in the order light meets it.
std::vector<std::pair<std::string, double>> losses(const optics::Ledger& ledger) {
  return {{"cosine", ledger.cosine_W},
          {"gaps", ledger.gaps_W},
          {"shading", ledger.shading_W},
          {"absorption", ledger.facet_absorption_W},
          {"blocking", ledger.blocking_W},
          {"secondary_missed", ledger.secondary_missed_W},
          {"secondary_absorption", ledger.secondary_absorption_W},
          {"spillage", ledger.spillage_W}};
}

/// A position that only exists when light falls there.
Json position_mm(const base::Vec2& position_m, double power_W) {
  return power_W > 0.0 ? numbers(position_m, 1000.0) : Json(nullptr);
}

Json map_json(const optics::FluxMap& map) {
  Json flux = Json::array();
  for (const double value : map.flux_W_m2) flux.push_back(number(value));
  return Json{{"columns", map.columns},
              {"rows", map.rows},
              {"centre_mm", numbers(map.centre_m, 1000.0)},
              {"size_mm", numbers(map.size_m, 1000.0)},
              {"flux_W_m2", std::move(flux)}};
}

Json facets_json(const optics::TraceResult& result) {
  Json facets = Json::array();
  for (const optics::FacetFigures& facet : result.facets) {
    facets.push_back(Json{{"id", facet.id.text},
                          {"power_W", number(facet.power_W)},
                          {"centroid_mm", position_mm(facet.centroid_m, facet.lit_fraction)},
                          {"rms_radius_mm", number(base::mm_from_m(facet.rms_radius_m))},
                          {"lit_fraction", number(facet.lit_fraction)}});
  }
  return facets;
}

std::string percent(double part, double whole) {
  return whole > 0.0 ? fixed(100.0 * part / whole, 1) + " %" : "-";
}

/// Light that meets mirrors again: the table above books it as blocked or past the secondary.
std::string further_text(const optics::FurtherHits& further) {
  return fmt::format(
      "Of {} W that were stopped, {} W met a mirror again (at most {} of them), and {} W with a "
      "standard error of {} W reached the receiver after all; they are not among its watts "
      "above.\n",
      significant(further.stopped_W, 4), significant(further.mirrored_W, 3), further.most_hits,
      significant(further.receiver_W, 3), significant(further.standard_error_W, 2));
}

Table watts_table(const optics::TraceResult& result) {
  Table table{.columns = {{"where the light goes", false}, {"W"}, {"of incident"}}};
  const auto row = [&](const std::string& name, double watts) {
    table.rows.push_back({name, fixed(watts, 1), percent(watts, result.ledger.incident_W)});
  };
  row("incident on the aperture", result.ledger.incident_W);
  row("lost: facing off the sun", result.ledger.cosine_W);
  row("lost: gaps between facets", result.ledger.gaps_W);
  row("lost: shading", result.ledger.shading_W);
  row("lost: absorbed by facets", result.ledger.facet_absorption_W);
  row("lost: blocking", result.ledger.blocking_W);
  row("lost: past the secondary", result.ledger.secondary_missed_W);
  row("lost: absorbed by secondary", result.ledger.secondary_absorption_W);
  row("lost: spillage", result.ledger.spillage_W);
  row("on the receiver", result.power_receiver_W);
  row("  reflected by it", result.ledger.receiver_reflection_W);
  row("  absorbed by it", result.ledger.receiver_absorbed_W);
  return table;
}

Lines figures(const optics::TraceResult& result, const dish::Sun& sun) {
  Lines lines;
  lines.add("rays", fmt::format("{} (seed {})", result.rays, result.seed));
  lines.add("sun", sun_words(sun));
  lines.add("sunlight (DNI)", significant(result.dni_W_m2, 4) + " W/m2");
  lines.add("aperture",
            fmt::format("{} m2, of which mirror {} m2", significant(result.gross_aperture_m2, 4),
                        significant(result.mirror_area_m2, 4)));
  lines.add("on the receiver",
            fmt::format("{} W, standard error {} W", significant(result.power_receiver_W, 5),
                        significant(result.standard_error_W, 2)));
  lines.add("intercept factor", fixed(result.intercept_factor, 4));
  lines.add("optical efficiency", fixed(result.optical_efficiency, 4));
  const bool lit = result.power_plane_W > 0.0;
  lines.add("centre of the spot",
            lit ? fmt::format("right {} mm, up {} mm",
                              fixed_signed(base::mm_from_m(result.centroid_m.x), 2),
                              fixed_signed(base::mm_from_m(result.centroid_m.y), 2))
                : "no light on the receiver's plane");
  lines.add("peak flux", fmt::format("{} kW/m2, {} suns", significant(result.peak_W_m2 / 1e3, 4),
                                     significant(result.peak_concentration, 4)));
  lines.add("mean concentration", significant(result.mean_concentration, 4) + " suns");
  lines.add("radius about the centre", fmt::format("{} mm holds 50 %, {} mm 90 %, {} mm 95 %",
                                                   fixed(base::mm_from_m(result.radius_m[0]), 1),
                                                   fixed(base::mm_from_m(result.radius_m[1]), 1),
                                                   fixed(base::mm_from_m(result.radius_m[2]), 1)));
  return lines;
}

}  // namespace

base::Result<optics::TraceSettings> settings_of(const dish::Dish& dish,
                                                const TraceRequest& request) {
  optics::TraceSettings settings = request.settings;
  if (!request.facet) return settings;
  const std::size_t facet = dish::find_facet(dish, *request.facet);
  if (facet == dish::k_no_facet) return unknown_facet(dish, *request.facet, "facet");
  settings.only_facet = facet;
  return settings;
}

base::Result<TraceReply> run(const dish::Dish& dish, const TraceRequest& request,
                             const base::Progress& progress) {
  const auto settings = settings_of(dish, request);
  if (!settings) return settings.problems();
  auto result = optics::trace(dish, settings.value(), progress);
  if (!result) return result.problems();
  TraceReply reply{.result = std::move(result).value(),
                   .sun = dish.sun,
                   .with_map = request.with_map,
                   .further_hits = {}};
  if (request.with_further_hits) {
    const auto scene =
        optics::make_scene(dish, {.tracking_error_rad = settings.value().tracking_error_rad});
    if (!scene) return scene.problems();
    reply.further_hits =
        optics::follow_further(scene.value(), std::min(request.settings.rays, k_most_further_rays),
                               request.settings.seed, progress);
  }
  return reply;
}

std::string json_text(const TraceReply& reply) {
  const optics::TraceResult& result = reply.result;
  Json json{{"rays", result.rays},
            {"seed", result.seed},
            {"sun", sun_json(reply.sun)},
            {"dni_W_m2", number(result.dni_W_m2)},
            {"aperture_area_m2", number(result.gross_aperture_m2)},
            {"mirror_area_m2", number(result.mirror_area_m2)},
            {"power_incident_W", number(result.ledger.incident_W)},
            {"power_reflected_W", number(result.power_reflected_W)},
            {"power_plane_W", number(result.power_plane_W)},
            {"power_receiver_W", number(result.power_receiver_W)},
            {"standard_error_W", number(result.standard_error_W)},
            {"intercept_factor", number(result.intercept_factor)},
            {"optical_efficiency", number(result.optical_efficiency)},
            {"centroid_mm", position_mm(result.centroid_m, result.power_plane_W)},
            {"rms_mm", position_mm(result.rms_m, result.power_plane_W)},
            {"peak_W_m2", number(result.peak_W_m2)},
            {"peak_concentration", number(result.peak_concentration)},
            {"mean_concentration", number(result.mean_concentration)},
            {"radius_mm",
             {{"50", number(base::mm_from_m(result.radius_m[0]))},
              {"90", number(base::mm_from_m(result.radius_m[1]))},
              {"95", number(base::mm_from_m(result.radius_m[2]))}}}};
  for (const auto& [name, watts] : losses(result.ledger)) json["losses_W"][name] = number(watts);
  json["receiver_W"] = Json{{"reflected", number(result.ledger.receiver_reflection_W)},
                            {"absorbed", number(result.ledger.receiver_absorbed_W)}};
  json["facets"] = facets_json(result);
  if (const auto& further = reply.further_hits) {
    json["further_hits"] = Json{{"stopped_W", number(further->stopped_W)},
                                {"mirrored_W", number(further->mirrored_W)},
                                {"receiver_W", number(further->receiver_W)},
                                {"standard_error_W", number(further->standard_error_W)},
                                {"most_hits", further->most_hits}};
  }
  if (reply.with_map) json["map"] = map_json(result.map);
  return to_text(json) + "\n";
}

std::string report_text(const TraceReply& reply) {
  Table facets{
      .columns = {{"facet", false}, {"W"}, {"right mm"}, {"up mm"}, {"rms radius mm"}, {"lit %"}}};
  for (const optics::FacetFigures& facet : reply.result.facets) {
    const bool lit = facet.lit_fraction > 0.0;
    facets.rows.push_back({facet.id.text, fixed(facet.power_W, 2),
                           lit ? fixed_signed(base::mm_from_m(facet.centroid_m.x), 2) : "-",
                           lit ? fixed_signed(base::mm_from_m(facet.centroid_m.y), 2) : "-",
                           lit ? fixed(base::mm_from_m(facet.rms_radius_m), 2) : "-",
                           fixed(100.0 * facet.lit_fraction, 1)});
  }
  const std::string further =
      reply.further_hits ? further_text(*reply.further_hits) + "\n" : std::string();
  return to_text(figures(reply.result, reply.sun)) + "\n" + to_text(watts_table(reply.result)) +
         "\n" + further + to_text(facets);
}

std::string csv_text(const TraceReply& reply) {
  std::vector<std::vector<std::string>> rows;
  for (const optics::FacetFigures& facet : reply.result.facets) {
    const bool lit = facet.lit_fraction > 0.0;
    rows.push_back(
        {facet.id.text, exact(facet.power_W), lit ? exact(base::mm_from_m(facet.centroid_m.x)) : "",
         lit ? exact(base::mm_from_m(facet.centroid_m.y)) : "",
         lit ? exact(base::mm_from_m(facet.rms_radius_m)) : "", exact(facet.lit_fraction)});
  }
  return to_csv({"facet", "power_W", "right_mm", "up_mm", "rms_radius_mm", "lit_fraction"}, rows);
}

std::string map_csv_text(const optics::FluxMap& map) {
  std::string text = "right_mm,up_mm,flux_W_m2\n";
  const base::Vec2 cell = map.size_m / base::Vec2(map.columns, map.rows);
  const base::Vec2 corner = map.centre_m - 0.5 * map.size_m;
  for (int row = 0; row < map.rows; ++row) {
    for (int column = 0; column < map.columns; ++column) {
      const base::Vec2 middle = corner + cell * base::Vec2(column + 0.5, row + 0.5);
      text += fmt::format("{},{},{}\n", exact(base::mm_from_m(middle.x)),
                          exact(base::mm_from_m(middle.y)), exact(map.at(column, row)));
    }
  }
  return text;
}

}  // namespace tasks
