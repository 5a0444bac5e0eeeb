// Read straight from the command table and the view keys, so that it can never be out of date.
#include "page/keys_sheet.h"

#include <imgui.h>

#include <optional>
#include <string>

#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "page/view_keys.h"
#include "page/widgets/words.h"
#include "session/commands.h"

namespace page {
namespace {

constexpr float k_column = 420.0f;
constexpr float k_padding = 26.0f;
constexpr float k_key = 152.0f;

void heading(const char* text) {
  ImGui::Dummy({0.0f, 6.0f});
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().copper);
  ImGui::TextUnformatted(text);
  ImGui::PopStyleColor();
}

void line(const std::string& keys, const char* name, bool possible) {
  const look::Theme& theme = look::theme();
  const float left = ImGui::GetCursorPosX();
  ImGui::PushStyleColor(ImGuiCol_Text, possible ? theme.ink : theme.ink_faint);
  ImGui::TextUnformatted(keys.c_str());
  ImGui::PopStyleColor();
  ImGui::SameLine();
  ImGui::SetCursorPosX(left + k_key);
  ImGui::PushStyleColor(ImGuiCol_Text, possible ? theme.ink_soft : theme.ink_faint);
  ImGui::PushTextWrapPos(left + k_column - 12.0f);
  ImGui::TextUnformatted(name);
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
}

void show_commands(const session::Session& session, bool first_half) {
  std::optional<session::CommandGroup> shown;
  for (const session::Command& command : session::commands()) {
    const bool is_first = command.group <= session::CommandGroup::look;
    if (is_first != first_half) continue;
    if (shown != command.group) heading(session::to_text(command.group));
    shown = command.group;
    const std::string also = *command.also == '\0' ? "" : std::string(", ") + command.also;
    line(command.keys + also, command.name, command.possible(session));
  }
}

void show_columns(const session::Session& session) {
  const ImVec2 top = ImGui::GetCursorPos();
  ImGui::BeginGroup();
  show_commands(session, true);
  heading("Where you look from");
  for (const ViewKey& key : view_keys()) line(key.keys, key.name, true);
  ImGui::EndGroup();
  ImGui::SetCursorPos({top.x + k_column, top.y});
  ImGui::BeginGroup();
  show_commands(session, false);
  ImGui::EndGroup();
}

}  // namespace

void show_keys_sheet(const session::Session& session, session::Actions& actions) {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  const look::Theme& theme = look::theme();
  ImGui::SetNextWindowPos({0.5f * size.x, 0.5f * size.y}, ImGuiCond_Always, {0.5f, 0.5f});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(k_padding, k_padding));
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(10.0f, 3.0f));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, theme.raised);
  ImGui::SetNextWindowFocus();
  ImGui::Begin("keys", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_AlwaysAutoResize);
  {
    const look::Font large(look::FontSize::large);
    ImGui::TextUnformatted("Keys");
  }
  show_columns(session);
  const bool outside = ImGui::IsMouseClicked(ImGuiMouseButton_Left) &&
                       !ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem);
  if (outside) actions.emplace_back(session::act::ShowKeys{false});
  ImGui::End();
  ImGui::PopStyleColor();
  ImGui::PopStyleVar(2);
}

}  // namespace page
