// Draws notices as slips of paper over the yard, and the hints as one quiet line.
#include "page/panels/notices.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>

#include "page/look/fonts.h"
#include "page/look/theme.h"

namespace page {
namespace {

constexpr float k_slip_width = 460.0F;
constexpr std::size_t k_lines_shown = 6;

ImU32 edge_colour(session::Notice::Kind kind) {
  const look::Theme& t = look::theme();
  switch (kind) {
    case session::Notice::Kind::error:
      return t.danger;
    case session::Notice::Kind::warning:
      return t.doubt;
    default:
      return t.cool;
  }
}

const char* sign_of(session::Notice::Kind kind) {
  switch (kind) {
    case session::Notice::Kind::error:
      return "✗";
    case session::Notice::Kind::warning:
      return "▲";
    default:
      return "●";
  }
}

void show_lines(const session::Notice& notice) {
  const std::size_t shown = std::min(notice.lines.size(), k_lines_shown);
  for (std::size_t i = 0; i < shown; ++i) ImGui::TextWrapped("%s", notice.lines[i].c_str());
  if (shown < notice.lines.size()) {
    ImGui::TextDisabled("%s", fmt::format("and {} more", notice.lines.size() - shown).c_str());
  }
}

/// One slip; returns its height.
float show_slip(const session::Notice& notice, std::size_t index, const Rect& over, float y,
                session::Actions& actions) {
  const float width = std::min(k_slip_width, over.width - 32.0F);
  ImGui::SetNextWindowPos({over.x + (over.width - width) * 0.5F, y});
  ImGui::SetNextWindowSize({width, 0.0F});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, look::theme().raised);
  ImGui::Begin(fmt::format("notice {}", index).c_str(), nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoFocusOnAppearing);
  ImGui::PushStyleColor(ImGuiCol_Text, edge_colour(notice.kind));
  ImGui::TextUnformatted(sign_of(notice.kind));
  ImGui::PopStyleColor();
  ImGui::SameLine();
  ImGui::TextWrapped("%s", notice.title.c_str());
  show_lines(notice);
  if (notice.offer) {
    if (ImGui::Button(notice.offer->words.c_str())) {
      actions.push_back(notice.offer->wish);
      actions.push_back(session::act::DismissNotice{index});
    }
    ImGui::SameLine();
  }
  if (ImGui::Button("Understood")) actions.push_back(session::act::DismissNotice{index});
  const ImVec2 at = ImGui::GetWindowPos();
  const float height = ImGui::GetWindowHeight();
  ImGui::GetWindowDrawList()->AddRectFilled(at, {at.x + 3.0F, at.y + height},
                                            edge_colour(notice.kind));
  ImGui::End();
  ImGui::PopStyleColor();
  return height;
}

}  // namespace

void show_notices(const session::Session& session, const Rect& over, session::Actions& actions) {
  float y = over.y + 12.0F;
  for (std::size_t i = session.notices.size(); i-- > 0;) {
    y += show_slip(session.notices[i], i, over, y, actions) + 8.0F;
    if (y > over.bottom() - 80.0F) return;
  }
}

void show_hints(const session::Session& session, const Rect& over) {
  static constexpr std::array<const char*, 3> k_hints{
      "1 of 3   Pick a facet in the picture, then drag one of its screws in the strip below.",
      "2 of 3   Watch its spot move on the target card, to the right.",
      "3 of 3   Read the correction: the copper arc on each dial, which way and how far."};
  const auto next = std::find(session.hints_done.begin(), session.hints_done.end(), false);
  if (next == session.hints_done.end()) return;
  const char* hint = k_hints[static_cast<std::size_t>(next - session.hints_done.begin())];
  const float widest = over.width - 64.0F;
  const ImVec2 size = ImGui::CalcTextSize(hint, nullptr, false, widest);
  const ImVec2 at{over.x + (over.width - size.x) * 0.5F, over.bottom() - size.y - 44.0F};
  ImDrawList& draw = *ImGui::GetForegroundDrawList();
  draw.AddRectFilled({at.x - 12.0F, at.y - 6.0F}, {at.x + size.x + 12.0F, at.y + size.y + 6.0F},
                     look::faded(look::theme().cool_soft, 0.94F), 3.0F);
  draw.AddText(ImGui::GetFont(), ImGui::GetFontSize(), at, look::theme().ink, hint, nullptr,
               widest);
}

}  // namespace page
