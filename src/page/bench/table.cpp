// Facet tables are clipped to what is in sight, so that ten thousand rows cost no more than ten.
#include "page/bench/table.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>

#include "page/look/theme.h"

namespace page {
namespace {

constexpr std::size_t k_rows_in_sight = 12;
constexpr float k_facet_width = 42.0F;
constexpr float k_lines_a_notch = 5.0F;  // as the toolkit itself scrolls
constexpr float k_name_share = 2.4F;     // of the first column, in widths of another

bool open_table(const char* id, std::size_t columns, std::size_t rows) {
  const float line = ImGui::GetTextLineHeightWithSpacing() + 2.0F;
  const float height = line * static_cast<float>(std::min(rows + 1, k_rows_in_sight + 1)) + 4.0F;
  const ImGuiTableFlags flags = ImGuiTableFlags_ScrollY | ImGuiTableFlags_BordersInnerH |
                                ImGuiTableFlags_SizingStretchSame | ImGuiTableFlags_RowBg;
  ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, ImVec2(4.0F, 3.0F));
  const bool open = ImGui::BeginTable(id, static_cast<int>(columns), flags, ImVec2(0.0F, height));
  ImGui::PopStyleVar();
  if (open) ImGui::TableSetupScrollFreeze(0, 1);
  return open;
}

template <class Each>
void head_row(const std::string& first, Each from, Each to) {
  ImGui::TableNextRow();
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_soft);
  ImGui::TableNextColumn();
  ImGui::TextUnformatted(first.c_str());
  for (; from != to; ++from) number_cell(*from);
  ImGui::PopStyleColor();
}

}  // namespace

bool begin_facet_table(const char* id, const std::vector<std::string>& columns, std::size_t rows) {
  if (!open_table(id, columns.size() + 1, rows)) return false;
  ImGui::TableSetupColumn("facet", ImGuiTableColumnFlags_WidthFixed, k_facet_width);
  for (const std::string& column : columns) ImGui::TableSetupColumn(column.c_str());
  head_row("facet", columns.begin(), columns.end());
  return true;
}

bool begin_table(const char* id, const std::vector<std::string>& columns, std::size_t rows) {
  if (!open_table(id, columns.size(), rows)) return false;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    ImGui::TableSetupColumn(columns[i].c_str(), 0, i == 0 ? k_name_share : 1.0F);
  }
  head_row(columns.front(), columns.begin() + 1, columns.end());
  return true;
}

void end_table() {
  ImGuiContext& toolkit = *ImGui::GetCurrentContext();
  const float wheel = toolkit.IO.MouseWheel;
  const float most = ImGui::GetScrollMaxY();
  const float rest = wheel > 0.0F ? ImGui::GetScrollY() : most - ImGui::GetScrollY();
  // A table that shows all of its rows passes the wheel on by itself.
  const bool is_past = toolkit.WheelingWindow == ImGui::GetCurrentWindow() && wheel != 0.0F &&
                       rest <= 0.0F && most > 0.0F;
  ImGui::EndTable();
  if (!is_past) return;
  ImGui::SetScrollY(ImGui::GetScrollY() - wheel * k_lines_a_notch * ImGui::GetFontSize());
  // Else the wheel would be held here for a while, also when the pointer is elsewhere by then.
  toolkit.WheelingWindow = nullptr;
}

void for_rows(std::size_t count, const std::function<void(std::size_t)>& row) {
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(count));
  while (clipper.Step()) {
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
      ImGui::TableNextRow();
      ImGui::PushID(i);
      row(static_cast<std::size_t>(i));
      ImGui::PopID();
    }
  }
}

void facet_cell(const dish::FacetId& facet, const session::Session& session,
                session::Actions& actions) {
  const bool selected = session.selection.selected == facet;
  const bool hovered = session.selection.hovered == facet;
  ImGui::TableNextColumn();
  if (hovered) ImGui::TableSetBgColor(ImGuiTableBgTarget_RowBg1, look::theme().copper_soft);
  if (ImGui::Selectable(facet.text.c_str(), selected,
                        ImGuiSelectableFlags_SpanAllColumns | ImGuiSelectableFlags_AllowOverlap)) {
    actions.push_back(session::act::Select{facet, -1});
  }
  if (ImGui::IsItemHovered()) actions.push_back(session::act::Hover{facet});
}

void number_cell(const std::string& figure) {
  ImGui::TableNextColumn();
  const float spare = ImGui::GetContentRegionAvail().x - ImGui::CalcTextSize(figure.c_str()).x;
  if (spare > 0.0F) ImGui::SetCursorPosX(ImGui::GetCursorPosX() + spare);
  ImGui::TextUnformatted(figure.c_str());
}

}  // namespace page
