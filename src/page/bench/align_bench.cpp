// The answer comes first: which screws to turn. Then ways to look again, how the round was seen,
// its spots, what all facets share.
#include "page/bench/align_bench.h"

#include <fmt/format.h>
#include <imgui.h>

#include "base/units.h"
#include "page/bench/common_rows.h"
#include "page/bench/convention_rows.h"
#include "page/bench/look_rows.h"
#include "page/bench/round_rows.h"
#include "page/bench/spots_table.h"
#include "page/bench/story_rows.h"
#include "page/bench/trial_rows.h"
#include "page/bench/turns_table.h"
#include "page/look/theme.h"
#include "session/figures.h"
#include "session/on_site.h"
#include "session/told.h"
#include "session/trial.h"

namespace page {
namespace {

namespace act = session::act;

void show_verdict(const align::Plan& plan) {
  paragraph(plan.verdict);
  figure_row("tilt error now", fmt::format("{:.2f} mrad", base::mrad_from_rad(plan.rms_tilt_rad)),
             "Root mean square over the facets with a spot");
  figure_row("expected after",
             fmt::format("{:.2f} mrad", base::mrad_from_rad(plan.expected_rms_rad)),
             "With the noise of reading spots and of turning by hand");
  figure_row("facets to turn", fmt::format("{} of {}", plan.to_turn, plan.facets.size()));
  for (const base::Problem& problem : plan.problems) remark(base::to_line(problem).c_str());
}

void show_turns_buttons(const session::Session& session, session::Actions& actions) {
  if (wide_button("I made these turns", session::turns_are_open(session),
                  "No turns wait to be made: log new spots to begin the next round")) {
    actions.push_back(act::TurnsDone{});
  }
  hint_for_last("Logs the turns in the dish file and moves the model's screws by them");
  if (wide_button("Work facet by facet", session::can_work_on_site(session),
                  "The shown round asks for no turns")) {
    actions.push_back(act::WorkOnSite{true});
  }
  hint_for_last("At the dish: one facet at a time, in big letters");
}

void show_turned(const session::Session& session, session::Actions& actions) {
  show_turns_buttons(session, actions);
  if (ImGui::Button("Sheet to print")) actions.push_back(act::ExportSheet{});
  hint_for_last("A card for each facet with its screws as you see them, and boxes to tick");
  ImGui::SameLine();
  if (ImGui::Button("Marks to print")) actions.push_back(act::ExportMarks{});
  hint_for_last("Where each facet's spot should lie on this round's board, at true scale");
  if (ImGui::Button("Turns as CSV")) actions.push_back(act::ExportTurns{});
  ImGui::SameLine();
  if (ImGui::Button("Spots as CSV")) actions.push_back(act::ExportSpots{});
}

void show_prescribed(const session::Session& session, session::Actions& actions) {
  section("What to do");
  paragraph(session::turns_are_open(session)
                ? "Make these turns. Nothing needs to be seen before them."
                : "These turns are made: photograph the board at the focus, or log the spots.");
  show_turns_buttons(session, actions);
  show_turns_table(session, actions);
}

void show_start() {
  remark(
      "A round begins with spots: drop a CSV on the page, paste one (facet, right, up in mm), "
      "type them into the table below, or bring a photo.");
}

/// What the shown round asks for.
void show_answer(const session::Session& session, AlignMemory& memory, session::Actions& actions) {
  const dish::Round* round = session::shown_round(session);
  if (session::shown_trial(session)) return show_trial_rows(session, memory.fields, actions);
  if (round == nullptr) return show_start();
  if (session::is_prescribed(*round)) return show_prescribed(session, actions);
  if (session.plan.value) {
    section("What to do");
    show_verdict(*session.plan.value);
    show_turned(session, actions);
    show_turns_table(session, actions);
    return;
  }
  section("No answer yet");
  if (!dish::has_observations(*round)) show_start();
  for (const base::Problem& problem : session.plan.problems) {
    remark(base::to_line(problem).c_str());
  }
}

}  // namespace

void show_align_bench(const session::Session& session, AlignMemory& memory,
                      session::Actions& actions) {
  show_round_choice(session, actions);
  show_answer(session, memory, actions);
  show_look_rows(session, actions);
  show_round_rows(session, memory, actions);
  section("Spots seen");
  show_spots_table(session, memory, actions);
  section("How screws share the work");
  show_convention_rows(session, memory, actions);
  if (session.plan.value) {
    section("What all facets share");
    show_common_rows(session, actions);
  }
  show_practice_rows(session, memory.practice, memory.fields, actions);
  // Told a moment after the rest: last, so that it pushes nothing from under the pointer.
  show_story_rows(session, actions);
  remark("Keep facets covered while you work; never look into the spot or a facet's reflection.");
}

}  // namespace page
