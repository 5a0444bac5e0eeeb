// A typed number becomes an edit when the field is left; a spot needs both of its numbers.
#include "page/bench/spots_table.h"

#include <fmt/format.h>
#include <imgui.h>

#include "base/units.h"
#include "page/bench/table.h"
#include "page/look/theme.h"
#include "session/figures.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

/// One coordinate in mm. Returns the new value when the person leaves the field.
std::optional<double> coordinate(const char* id, std::optional<double> mm, FieldMemory& memory) {
  ImGui::TableNextColumn();
  ImGui::SetNextItemWidth(-1.0F);
  double value = mm.value_or(0.0);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(4.0F, 1.0F));
  if (!mm) ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_faint);
  ImGui::InputDouble(("##" + std::string(id)).c_str(), &value, 0.0, 0.0, mm ? "%.2f" : "–",
                     ImGuiInputTextFlags_AutoSelectAll | ImGuiInputTextFlags_CharsScientific);
  if (!mm) ImGui::PopStyleColor();
  ImGui::PopStyleVar();
  const bool left = ImGui::IsItemDeactivatedAfterEdit();
  note_last_item(id);
  if (!left) return std::nullopt;
  const double si = base::m_from_mm(value);
  if (dish::ranges::in_range(Quantity::spot_seen, si)) {
    memory.refused.clear();
    return si;
  }
  memory.refused = fmt::format("{:.6g} is not possible here: {}", value,
                               dish::ranges::range_text(Quantity::spot_seen));
  return std::nullopt;
}

void show_row(const dish::Facet& facet, const session::Session& session, AlignMemory& memory,
              session::Actions& actions) {
  facet_cell(facet.id, session, actions);
  const std::optional<base::Vec2> seen = session::seen_spot(session, facet.id);
  const auto mm = [&](int axis) {
    return seen ? std::optional<double>(base::mm_from_m((*seen)[axis])) : std::nullopt;
  };
  const auto right = coordinate(("right " + facet.id.text).c_str(), mm(0), memory.fields);
  const auto up = coordinate(("up " + facet.id.text).c_str(), mm(1), memory.fields);
  if (!right && !up) return;
  base::Vec2 spot = seen.value_or(base::Vec2{0.0, 0.0});
  if (right) spot.x = *right;
  if (up) spot.y = *up;
  actions.push_back(act::Change{
      dish::edit::SetSpot{session.round, dish::Spot{.facet = facet.id, .seen_m = spot}}});
  actions.push_back(act::Select{facet.id, session.selection.screw});
}

}  // namespace

void show_spots_table(const session::Session& session, AlignMemory& memory,
                      session::Actions& actions) {
  const std::vector<dish::Facet>& facets = session.document.dish.facets;
  remark("mm from the board's centre, right and up as seen by someone who faces its lit side");
  if (!begin_facet_table("spots", {"right", "up"}, facets.size())) return;
  for_rows(facets.size(), [&](std::size_t i) { show_row(facets[i], session, memory, actions); });
  end_table();
  if (!memory.fields.refused.empty()) remark(memory.fields.refused.c_str());
}

}  // namespace page
