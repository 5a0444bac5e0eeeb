// One button at a time: ask, stop, ask again.
#include "page/bench/study_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include "page/bench/fields.h"

namespace page {

bool study_row(const session::Session& session, const StudyRow& row, session::Actions& actions) {
  using State = session::StudyState;
  const session::StudyStanding& study = session::standing_of(session, row.kind);
  if (study.state == State::running) {
    ImGui::ProgressBar(static_cast<float>(study.share), ImVec2(-1.0F, 6.0F), "");
    figure_row("working", fmt::format("{:.0f} %", 100.0 * study.share));
    if (wide_button("Stop working")) actions.push_back(session::act::StopStudy{row.kind});
    return false;
  }
  const bool has_answer = study.reply_revision != 0;
  const bool is_present = has_answer && session::is_of_present_dish(session, study);
  if (is_present) return false;
  if (has_answer) remark("The dish has changed since this was worked out.");
  const bool pressed = wide_button(has_answer ? row.again : row.ask);
  hint_for_last(row.hint);
  if (study.state == State::failed) {
    for (const base::Problem& problem : study.problems) remark(base::to_line(problem).c_str());
  }
  return pressed;
}

}  // namespace page
