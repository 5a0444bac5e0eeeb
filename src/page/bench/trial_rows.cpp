// The log tells how far the trial has come; these rows show its last look.
#include "page/bench/trial_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include "page/look/theme.h"
#include "session/figures.h"
#include "session/trial.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

void show_spot(const session::Session& session, const dish::FacetId& facet, FieldMemory& fields,
               session::Actions& actions) {
  const auto seen = session::seen_spot(session, facet);
  const base::Vec2 at = seen.value_or(base::Vec2{0.0, 0.0});
  const auto place = [&](int axis) {
    return [&session, facet, at, axis](double si) {
      base::Vec2 moved = at;
      moved[axis] = si;
      return dish::edit::SetSpot{session.round, {.facet = facet, .seen_m = moved}};
    };
  };
  const std::string right = fmt::format("{} to the right", facet.text);
  const std::string up = fmt::format("{} up", facet.text);
  number_row({right.c_str(), Quantity::spot_seen, at.x,
              "Of the board's centre, as seen by someone who faces its lit side"},
             fields, actions, place(0));
  number_row({up.c_str(), Quantity::spot_seen, at.y}, fields, actions, place(1));
}

void show_verdict(const align::NudgeVerdict& verdict, const session::Session& session,
                  session::Actions& actions) {
  ImGui::PushStyleColor(ImGuiCol_Text,
                        verdict.labels.act ? look::theme().doubt : look::theme().ink);
  paragraph(verdict.sentence);
  ImGui::PopStyleColor();
  show_correction(verdict.labels, actions);
  for (const align::NudgeReading& reading : verdict.readings) {
    const std::string& id = session.document.dish.facets[reading.facet].id.text;
    figure_row(
        ("screws of " + id).c_str(),
        fmt::format("{:.2f}, {:.2f}, {:.2f}", reading.gain[0], reading.gain[1], reading.gain[2]),
        "How far each screw moved its spot, of what the file lets expect");
  }
}

}  // namespace

void show_correction(const align::LabelVerdict& verdict, session::Actions& actions) {
  if (!verdict.act) return;
  ImGui::PushID(&verdict);
  if (wide_button("The file is wrong: put it right")) {
    actions.push_back(act::CorrectMount{verdict.mount, verdict.hypotheses[verdict.best].wiring});
  }
  ImGui::PopID();
  hint_for_last(
      "Changes the mount in the file to what the spots show, and where the screws stand with it. "
      "If instead the hardware is wrong, number or turn it as the file says");
}

void show_trial_rows(const session::Session& session, FieldMemory& fields,
                     session::Actions& actions) {
  const auto trial = *session::shown_trial(session);
  section("Trial of the screws");
  if (trial.looks == 1) {
    remark(
        "Each screw of two facets, turned alone by half a turn, shows whether numbers, hands, "
        "threads and sides are as this file says.");
  }
  if (session.trial.value) {
    show_verdict(*session.trial.value, session, actions);
  } else {
    paragraph(session::trial_step(session));
  }
  for (const base::Problem& problem : session.trial.problems) {
    remark(base::to_line(problem).c_str());
  }
  const std::size_t look = session.round - trial.first_round;
  figure_row("look", fmt::format("{} of {}", look + 1, align::k_nudge_looks));
  for (const std::size_t facet : trial.facets) {
    show_spot(session, session.document.dish.facets[facet].id, fields, actions);
  }
  if (align::is_over(trial)) {
    if (wide_button("Begin the first round")) actions.push_back(act::BeginRound{});
    hint_for_last("An empty round, to type all spots into; a photo or a table makes its own");
  } else if (wide_button("Turned: the next look", session::can_turn_trial(session),
                         "Enter both spots first, in the trial's last look")) {
    actions.push_back(act::TrialTurned{});
  }
}

}  // namespace page
