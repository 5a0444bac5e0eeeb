// Draws the stacked bar with its labels. Small losses share one label; hovering tells each.
#include "page/panels/watts_bar.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <string>
#include <vector>

#include "page/bench/fields.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "page/widgets/numbers.h"
#include "session/figures.h"

namespace page {
namespace {

constexpr float k_bar_height = 26.0F;
constexpr float k_seam = 1.0F;

struct Piece {
  session::WattShare row;
  float from = 0.0F;
  float to = 0.0F;
};

/// Cuts the bar's width into the accounts that are worth a pixel; the kept one comes first.
std::vector<Piece> cut(const optics::Ledger& ledger, float left, float width) {
  std::vector<session::WattShare> rows = session::watt_shares(ledger);
  std::reverse(rows.begin(), rows.end());
  double total = 0.0;
  for (const session::WattShare& row : rows) total += std::max(row.watts, 0.0);
  std::vector<Piece> pieces;
  if (total <= 0.0) return pieces;
  float at = left;
  for (const session::WattShare& row : rows) {
    const float share = static_cast<float>(std::max(row.watts, 0.0) / total);
    if (share * width < 0.5F) continue;
    pieces.push_back({row, at, at + share * width});
    at += share * width;
  }
  return pieces;
}

ImU32 colour_of(const Piece& piece, std::size_t index) {
  const look::Theme& t = look::theme();
  if (!piece.row.lost) return t.copper;
  return look::mixed(t.field, t.ink, 0.10F + 0.09F * static_cast<float>(index % 5));
}

void label_pieces(ImDrawList& draw, const std::vector<Piece>& pieces, float y, float right) {
  const look::Theme& t = look::theme();
  float free_from = 0.0F;
  for (const Piece& piece : pieces) {
    const std::string figure = widgets::watts(piece.row.watts);
    const float width = std::max(ImGui::CalcTextSize(piece.row.name.c_str()).x,
                                 ImGui::CalcTextSize(figure.c_str()).x);
    const float x = std::max(piece.from, free_from);
    if (x > piece.to + 10.0F || x + width > right) continue;
    draw.AddLine({piece.from + 0.5F, y - 3.0F}, {piece.from + 0.5F, y + 4.0F}, t.rule);
    draw.AddText({x + 4.0F, y}, !piece.row.lost ? t.copper : t.ink_soft, piece.row.name.c_str());
    draw.AddText({x + 4.0F, y + ImGui::GetTextLineHeight() + 1.0F}, t.ink, figure.c_str());
    free_from = x + width + 16.0F;
  }
}

void tell_piece(const std::vector<Piece>& pieces) {
  const float x = ImGui::GetIO().MousePos.x;
  for (const Piece& piece : pieces) {
    if (x < piece.from || x >= piece.to) continue;
    const std::string text =
        fmt::format("{}: {} ({:.1f} % of the sunlight on the aperture)\n{}", piece.row.name,
                    widgets::watts(piece.row.watts), 100.0 * piece.row.of_incident, piece.row.hint);
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(ImGui::GetFontSize() * 22.0F);
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    return;
  }
}

void show_heading(const optics::Ledger& ledger) {
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_soft);
  ImGui::TextUnformatted("Where the watts go");
  const std::string all = widgets::watts(ledger.incident_W) + " on the aperture";
  const float right = ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x;
  const float width = ImGui::CalcTextSize(all.c_str()).x;
  ImGui::SameLine(std::max(right - width, 150.0F));
  ImGui::TextUnformatted(all.c_str());
  ImGui::PopStyleColor();
  hint_for_last(
      "Sunlight: DNI times the area inside the facets' common outline. The bar ends with all of "
      "it.");
}

}  // namespace

void show_watts_bar(const session::Session& session) {
  const optics::TraceResult* light = session::light_of(session);
  if (light == nullptr) {
    remark("No light to account for: the dish has a problem that must be mended first.");
    return;
  }
  const optics::Ledger& ledger = light->ledger;
  show_heading(ledger);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const std::vector<Piece> pieces = cut(ledger, corner.x, width);
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    draw.AddRectFilled({pieces[i].from, corner.y},
                       {std::max(pieces[i].to - k_seam, pieces[i].from), corner.y + k_bar_height},
                       colour_of(pieces[i], i));
  }
  ImGui::InvisibleButton("watts", ImVec2(width, k_bar_height));
  if (ImGui::IsItemHovered()) tell_piece(pieces);
  const look::Font small(look::FontSize::small);
  label_pieces(draw, pieces, corner.y + k_bar_height + 6.0F, corner.x + width);
}

}  // namespace page
