// Cants every facet and reads off the heights of its screws.
#include "tasks/preset_task.h"

#include <utility>

#include "base/units.h"
#include "optics/canting.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/table.h"

namespace tasks {

base::Result<PresetReply> run(const dish::Dish& dish, const PresetRequest& /*request*/,
                              const base::Progress& progress) {
  const auto poses = optics::nominal_poses(dish);
  if (!poses) return poses.problems();
  auto presets = adjusters::presets_of(dish, poses.value());
  if (!presets) return presets.problems();
  progress.tell(1.0);
  return PresetReply{.facets = std::move(presets).value()};
}

std::string json_text(const PresetReply& reply) {
  Json facets = Json::array();
  for (const adjusters::FacetPreset& facet : reply.facets) {
    Json screws = Json::array();
    for (const adjusters::ScrewPreset& screw : facet.screws) {
      screws.push_back(Json{{"label", screw.label},
                            {"height_mm", number(base::mm_from_m(screw.height_m))},
                            {"caliper_mm", number(base::mm_from_m(screw.caliper_m))},
                            {"displacement_mm", number(base::mm_from_m(screw.displacement_m))}});
    }
    facets.push_back(Json{{"id", facet.id.text},
                          {"normal", numbers(facet.nominal.normal)},
                          {"centre_mm", numbers(facet.nominal.centre, 1000.0)},
                          {"screws", std::move(screws)}});
  }
  return to_text(Json{{"facets", std::move(facets)}}) + "\n";
}

std::string report_text(const PresetReply& reply) {
  Table table{.columns = {{"facet", false}}};
  for (int screw = 1; screw <= 3; ++screw) {
    table.columns.push_back({"screw", false});
    table.columns.push_back({"caliper mm"});
    table.columns.push_back({"now off by mm"});
  }
  for (const adjusters::FacetPreset& facet : reply.facets) {
    std::vector<std::string> row{facet.id.text};
    for (const adjusters::ScrewPreset& screw : facet.screws) {
      row.push_back(screw.label);
      row.push_back(fixed(base::mm_from_m(screw.caliper_m), 2));
      row.push_back(fixed_signed(base::mm_from_m(screw.displacement_m), 2));
    }
    table.rows.push_back(std::move(row));
  }
  return to_text(table);
}

std::string csv_text(const PresetReply& reply) {
  std::vector<std::vector<std::string>> rows;
  for (const adjusters::FacetPreset& facet : reply.facets) {
    for (const adjusters::ScrewPreset& screw : facet.screws) {
      rows.push_back({facet.id.text, screw.label, exact(base::mm_from_m(screw.height_m)),
                      exact(base::mm_from_m(screw.caliper_m)),
                      exact(base::mm_from_m(screw.displacement_m))});
    }
  }
  return to_csv({"facet", "screw", "height_mm", "caliper_mm", "displacement_mm"}, rows);
}

base::Result<std::string> answer_preset(const Call& call) {
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, PresetRequest{}, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
