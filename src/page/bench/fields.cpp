// How the rows of the bench are drawn and what they wish for.
#include "page/bench/fields.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "page/platform/item_table.h"

namespace page {
namespace {

namespace ranges = dish::ranges;

constexpr float k_label_share = 0.46F;  // of a row's width; the field has the rest
constexpr float k_drag_px_per_step = 4.0F;

const char* screen_unit(ranges::Unit unit) {
  switch (unit) {
    case ranges::Unit::degree:
    case ranges::Unit::site_degree:
      return "°";
    case ranges::Unit::watt_per_m2:
      return "W/m²";
    default:
      return ranges::unit_text(unit);
  }
}

/// printf format of a field: enough digits for the quantity's own step.
std::string format_of(const ranges::Range& range) {
  if (range.kind == ranges::Kind::whole) return "%.0f";
  const double step = ranges::in_unit(range.unit, range.step);
  const int digits = step >= 0.99 ? 1 : step >= 0.099 ? 2 : 3;
  const std::string unit = screen_unit(range.unit);
  const bool tight = unit == "°";
  return fmt::format("%.{}f{}{}", digits, unit.empty() || tight ? "" : " ", unit);
}

void label_cell(const char* label, const char* hint) {
  ImGui::AlignTextToFramePadding();
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_soft);
  ImGui::TextUnformatted(label);
  ImGui::PopStyleColor();
  hint_for_last(hint);
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::SameLine(ImGui::GetCursorPosX() + width * k_label_share);
  ImGui::SetNextItemWidth(-1.0F);
}

void show_refusal(unsigned id, const FieldMemory& memory) {
  if (memory.refused_id != id || memory.refused.empty()) return;
  const look::Font small(look::FontSize::small);
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().danger);
  ImGui::TextWrapped("%s", memory.refused.c_str());
  ImGui::PopStyleColor();
}

struct DragOutcome {
  std::optional<double> si;
  bool began = false;
  bool ended = false;
  bool cancelled = false;
};

/// The field itself: a drag that a click turns into typing. Refuses what is out of range.
DragOutcome drag_field(const NumberRow& row, FieldMemory& memory) {
  const ranges::Range& range = ranges::of(row.quantity);
  double shown = ranges::in_unit(range.unit, row.si);
  const double step = ranges::in_unit(range.unit, range.step);
  const unsigned id = ImGui::GetID("##field");
  DragOutcome outcome;
  const bool changed = ImGui::DragScalar("##field", ImGuiDataType_Double, &shown,
                                         static_cast<float>(step) / k_drag_px_per_step, nullptr,
                                         nullptr, format_of(range).c_str());
  note_last_item(row.label);
  outcome.began = ImGui::IsItemActivated();
  outcome.ended = ImGui::IsItemDeactivated();
  outcome.cancelled = outcome.ended && ImGui::IsKeyPressed(ImGuiKey_Escape, false);
  if (outcome.began || outcome.cancelled) memory.refused_id = 0;
  if (changed && !outcome.cancelled) {
    const double si = ranges::si_from(range.unit, shown);
    if (ranges::in_range(row.quantity, si)) {
      outcome.si = si;
      memory.refused_id = 0;
    } else {
      memory.refused_id = id;
      memory.refused =
          fmt::format("{:.6g} is not possible here: {}", shown, ranges::range_text(row.quantity));
    }
  }
  if (ImGui::IsItemHovered(ImGuiHoveredFlags_DelayNormal) && !ImGui::IsItemActive()) {
    ImGui::SetTooltip("%s\n%s  (drag, or click to type)", range.words,
                      ranges::range_text(row.quantity).c_str());
  }
  return outcome;
}

}  // namespace

void section(const char* title) {
  ImGui::Dummy(ImVec2(0.0F, 6.0F));
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::GetWindowDrawList()->AddLine(from, ImVec2(from.x + width, from.y), look::theme().rule);
  ImGui::Dummy(ImVec2(0.0F, 2.0F));
  ImGui::TextUnformatted(title);
}

void paragraph(const std::string& text) {
  const float width = ImGui::GetContentRegionAvail().x;
  std::string lines;
  std::string line;
  std::size_t at = 0;
  while (at <= text.size()) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string word = text.substr(at, end - at);
    const std::string longer = line.empty() ? word : line + ' ' + word;
    if (!line.empty() && ImGui::CalcTextSize(longer.c_str()).x > width) {
      lines += line + '\n';
      line = word;
    } else {
      line = longer;
    }
    at = end + 1;
  }
  ImGui::TextUnformatted((lines + line).c_str());
}

void remark(const char* text) {
  const look::Font small(look::FontSize::small);
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_soft);
  paragraph(text);
  ImGui::PopStyleColor();
}

void number_row(const NumberRow& row, FieldMemory& memory, session::Actions& actions,
                const std::function<dish::Edit(double)>& edit) {
  ImGui::PushID(row.label);
  label_cell(row.label, row.hint);
  const DragOutcome outcome = drag_field(row, memory);
  if (outcome.began) actions.push_back(session::act::BeginDrag{dish::title_of(edit(row.si))});
  if (outcome.si) actions.push_back(session::act::Change{edit(*outcome.si)});
  if (outcome.cancelled) actions.push_back(session::act::CancelDrag{});
  if (outcome.ended && !outcome.cancelled) actions.push_back(session::act::EndDrag{});
  show_refusal(ImGui::GetID("##field"), memory);
  ImGui::PopID();
}

std::optional<double> plain_number_row(const NumberRow& row, FieldMemory& memory) {
  ImGui::PushID(row.label);
  label_cell(row.label, row.hint);
  const DragOutcome outcome = drag_field(row, memory);
  show_refusal(ImGui::GetID("##field"), memory);
  ImGui::PopID();
  return outcome.si;
}

std::optional<int> choice_row(const char* label, const std::vector<std::string>& names, int chosen,
                              const char* hint, const std::string& in_short) {
  std::optional<int> picked;
  ImGui::PushID(label);
  label_cell(label, hint);
  const bool known = chosen >= 0 && chosen < static_cast<int>(names.size());
  const char* shown = known ? names[static_cast<std::size_t>(chosen)].c_str() : "—";
  if (!in_short.empty()) shown = in_short.c_str();
  const bool open = ImGui::BeginCombo("##choice", shown);
  note_last_item(label);
  if (open) {
    for (int i = 0; i < static_cast<int>(names.size()); ++i) {
      const bool is_chosen = i == chosen;
      if (ImGui::Selectable(names[static_cast<std::size_t>(i)].c_str(), is_chosen) && !is_chosen) {
        picked = i;
      }
    }
    ImGui::EndCombo();
  }
  ImGui::PopID();
  return picked;
}

std::optional<bool> switch_row(const char* label, bool on, const char* hint) {
  ImGui::PushID(label);
  label_cell(label, hint);
  bool state = on;
  const bool clicked = ImGui::Checkbox("##switch", &state);
  note_last_item(label);
  ImGui::PopID();
  return clicked ? std::optional<bool>(state) : std::nullopt;
}

void figure_row(const char* label, const std::string& figure, const char* hint) {
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_soft);
  ImGui::TextUnformatted(label);
  ImGui::PopStyleColor();
  hint_for_last(hint);
  const float right = ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x;
  ImGui::SameLine(std::max(right - ImGui::CalcTextSize(figure.c_str()).x, 0.0F));
  ImGui::TextUnformatted(figure.c_str());
  hint_for_last(hint);
}

bool wide_button(const char* label, bool possible, const char* why_not) {
  ImGui::BeginDisabled(!possible);
  const bool clicked = ImGui::Button(label, ImVec2(-1.0F, 0.0F));
  ImGui::EndDisabled();
  if (!possible && ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) {
    ImGui::SetTooltip("%s", why_not);
  }
  return clicked && possible;
}

void hint_for_last(const char* hint) {
  if (*hint == '\0' || !ImGui::IsItemHovered(ImGuiHoveredFlags_DelayNormal)) return;
  ImGui::BeginTooltip();
  ImGui::PushTextWrapPos(ImGui::GetFontSize() * 22.0F);
  ImGui::TextUnformatted(hint);
  ImGui::PopTextWrapPos();
  ImGui::EndTooltip();
}

void note_last_item(const char* name) {
  const ImVec2 at = ImGui::GetItemRectMin();
  const ImVec2 size = ImGui::GetItemRectSize();
  platform::note_item(name, at.x, at.y, size.x, size.y);
}

}  // namespace page
