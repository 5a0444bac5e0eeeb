// Each cell has an arrow and an amount; hovering tells it in words.
#include "page/bench/turns_table.h"

#include <fmt/format.h>
#include <imgui.h>

#include <cstdlib>

#include "adjusters/turns.h"
#include "page/bench/fields.h"
#include "page/bench/table.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "session/figures.h"

namespace page {
namespace {

/// "↻ 1 4/12": whole turns and clicks, as they are counted at the screw.
std::string cell_text(const align::ScrewCorrection& screw) {
  if (screw.clicks == 0) return "·";
  const int whole = std::abs(screw.clicks) / screw.clicks_per_turn;
  const int clicks = std::abs(screw.clicks) % screw.clicks_per_turn;
  std::string text = screw.clicks > 0 ? "↻ " : "↺ ";
  if (whole > 0) text += fmt::format("{}", whole);
  if (clicks > 0)
    text += fmt::format("{}{}/{}", whole > 0 ? " " : "", clicks, screw.clicks_per_turn);
  return text;
}

const char* sign_of(align::Verdict verdict) {
  switch (verdict) {
    case align::Verdict::turn:
      return "turn";
    case align::Verdict::leave:
      return "✓ leave";
    case align::Verdict::measure_again:
      return "? again";
    default:
      return "✗ beyond";
  }
}

ImU32 colour_of(align::Verdict verdict) {
  const look::Theme& t = look::theme();
  switch (verdict) {
    case align::Verdict::turn:
      return t.copper;
    case align::Verdict::leave:
      return t.ok;
    case align::Verdict::measure_again:
      return t.doubt;
    default:
      return t.danger;
  }
}

void show_row(const align::Correction& facet, const session::Session& session,
              session::Actions& actions) {
  facet_cell(facet.id, session, actions);
  for (const align::ScrewCorrection& screw : facet.screws) {
    number_cell(cell_text(screw));
    hint_for_last(
        ("Screw " + screw.label + ": " + session::words_of(screw, session::side_of(session)))
            .c_str());
  }
  ImGui::TableNextColumn();
  ImGui::PushStyleColor(ImGuiCol_Text, colour_of(facet.verdict));
  ImGui::TextUnformatted(sign_of(facet.verdict));
  ImGui::PopStyleColor();
  hint_for_last(facet.verdict_text.c_str());
}

}  // namespace

void show_turns_table(const session::Session& session, session::Actions& actions) {
  const align::Plan& plan = *session.plan.value;
  if (plan.facets.empty()) return;
  const look::Font small(look::FontSize::small);
  const auto& first = plan.facets.front().screws;
  if (!begin_facet_table("turns", {first[0].label, first[1].label, first[2].label, ""},
                         plan.facets.size())) {
    return;
  }
  for_rows(plan.facets.size(), [&](std::size_t i) { show_row(plan.facets[i], session, actions); });
  ImGui::EndTable();
  remark(
      "↻ clockwise, ↺ anticlockwise, as seen from where the screw is turned; twelfths are "
      "clicks of the clock face.");
}

}  // namespace page
