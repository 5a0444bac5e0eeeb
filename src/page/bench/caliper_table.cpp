// One row a facet, one column a screw; a click on a row selects the facet.
#include "page/bench/caliper_table.h"

#include <fmt/format.h>
#include <imgui.h>

#include "base/units.h"
#include "page/bench/fields.h"
#include "page/bench/table.h"

namespace page {
namespace {

void show_row(const adjusters::FacetPreset& preset, const session::Session& session,
              session::Actions& actions) {
  facet_cell(preset.id, session, actions);
  for (std::size_t k = 0; k < 3; ++k) {
    const adjusters::ScrewPreset& screw = preset.screws[k];
    number_cell(fmt::format("{:.2f}", base::mm_from_m(screw.caliper_m)));
    hint_for_last(fmt::format("Screw {} of facet {}: caliper {:.3f} mm at nominal; as built it "
                              "stands {:+.3f} mm from there",
                              screw.label, preset.id.text, base::mm_from_m(screw.caliper_m),
                              base::mm_from_m(screw.displacement_m))
                      .c_str());
  }
}

}  // namespace

void show_caliper_table(const session::Session& session, session::Actions& actions) {
  if (!session.presets.value || session.presets.value->empty()) {
    for (const base::Problem& problem : session.presets.problems) {
      remark(base::to_line(problem).c_str());
    }
    if (session.presets.problems.empty()) remark("No facets, no heights.");
    return;
  }
  const auto& presets = *session.presets.value;
  remark(
      "Set each screw to this reading, in mm from the bracket's reference face, with the facet "
      "covered. A caliper good to 0.05 mm on an 80 mm circle leaves about 0.5 mrad.");
  const auto& first = presets.front().screws;
  if (!begin_facet_table("caliper", {first[0].label, first[1].label, first[2].label},
                         presets.size())) {
    return;
  }
  for_rows(presets.size(), [&](std::size_t i) { show_row(presets[i], session, actions); });
  end_table();
}

}  // namespace page
