// Each cell has an arrow and an amount; hovering tells it in words.
#include "page/bench/turns_table.h"

#include <fmt/format.h>
#include <imgui.h>

#include <cstdlib>

#include "page/bench/fields.h"
#include "page/bench/table.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "session/figures.h"
#include "session/told.h"

namespace page {
namespace {

/// "↻ 1 4/12": whole turns and clicks, as they are counted at the screw.
std::string cell_text(const session::ToldTurn& screw) {
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

void show_row(const dish::FacetId& facet, const session::Session& session,
              session::Actions& actions) {
  facet_cell(facet, session, actions);
  const auto turns = session::told_turns(session, facet);
  for (std::size_t k = 0; k < 3; ++k) {
    if (!turns) {
      number_cell("·");
      continue;
    }
    const session::ToldTurn& screw = (*turns)[k];
    number_cell(cell_text(screw));
    hint_for_last(
        ("Screw " + screw.label + ": " + session::words_of(screw, session::side_of(session)))
            .c_str());
  }
  ImGui::TableNextColumn();
  const align::Correction* correction = session::correction_of(session, facet);
  if (correction == nullptr) return;
  ImGui::PushStyleColor(ImGuiCol_Text, colour_of(correction->verdict));
  ImGui::TextUnformatted(sign_of(correction->verdict));
  ImGui::PopStyleColor();
  hint_for_last(correction->verdict_text.c_str());
}

/// Facets of the shown round that have turns or a verdict, in the dish's order.
std::vector<dish::FacetId> rows_of(const session::Session& session) {
  std::vector<dish::FacetId> rows;
  if (session.plan.value && !session.plan.value->facets.empty()) {
    for (const align::Correction& facet : session.plan.value->facets) rows.push_back(facet.id);
    return rows;
  }
  const dish::Round* round = session::shown_round(session);
  if (round == nullptr) return rows;
  for (const dish::Turned& told : round->told) {
    if (rows.empty() || rows.back() != told.facet) rows.push_back(told.facet);
  }
  return rows;
}

}  // namespace

void show_turns_table(const session::Session& session, session::Actions& actions) {
  const std::vector<dish::FacetId> rows = rows_of(session);
  if (rows.empty()) return;
  const auto first = session::told_turns(session, rows.front());
  if (!first) return;
  const look::Font small(look::FontSize::small);
  if (!begin_facet_table("turns", {(*first)[0].label, (*first)[1].label, (*first)[2].label, ""},
                         rows.size())) {
    return;
  }
  for_rows(rows.size(), [&](std::size_t i) { show_row(rows[i], session, actions); });
  end_table();
  remark(
      "↻ clockwise, ↺ anticlockwise, as seen from where the screw is turned; twelfths are "
      "clicks of the clock face.");
}

}  // namespace page
