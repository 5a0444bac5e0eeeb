// One entry a mode; the person chooses which are left to tracker, board or frame.
#include "page/bench/common_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include "base/units.h"
#include "page/look/theme.h"

namespace page {
namespace {

const char* name_of(align::Mode mode) {
  switch (mode) {
    case align::Mode::shift_x:
      return "all to one side";
    case align::Mode::shift_y:
      return "all up or down";
    case align::Mode::radial:
      return "spread";
    case align::Mode::swirl:
      return "swirl";
    case align::Mode::saddle:
      return "saddle";
    default:
      return "saddle at 45°";
  }
}

std::string size_of(const align::CommonMode& mode) {
  return fmt::format("{:.1f} mm{}", base::mm_from_m(mode.at_rim_m),
                     mode.significant ? "" : ", not sure");
}

}  // namespace

void show_common_rows(const session::Session& session, session::Actions& actions) {
  const align::Plan& plan = *session.plan.value;
  if (!plan.common) {
    remark(plan.common_note.c_str());
    return;
  }
  align::PlanRequest request = session.plan_request;
  for (std::size_t i = 0; i < align::k_modes; ++i) {
    const align::CommonMode& mode = plan.common->modes[i];
    ImGui::PushID(static_cast<int>(i));
    figure_row(name_of(mode.mode), size_of(mode), mode.sentence.c_str());
    if (mode.significant || request.left_out[i]) {
      remark(mode.sentence.c_str());
      bool left_out = request.left_out[i];
      if (ImGui::Checkbox("put right elsewhere, not by the screws", &left_out)) {
        request.left_out[i] = left_out;
        actions.push_back(session::act::SetPlanRequest{request});
      }
    }
    ImGui::PopID();
  }
  if (!plan.common->note.empty()) remark(plan.common->note.c_str());
}

}  // namespace page
