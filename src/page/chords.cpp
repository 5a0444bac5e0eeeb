// Letters and signs come as text, so that they mean what the person's own keyboard says; keys
// without a character, and letters with Control, come as keys.
#include "page/chords.h"

#include <imgui.h>

#include <array>
#include <cctype>

namespace page {
namespace {

struct NamedKey {
  ImGuiKey key;
  const char* name;
};
constexpr std::array<NamedKey, 8> k_named{{{ImGuiKey_Escape, "Escape"},
                                           {ImGuiKey_Enter, "Enter"},
                                           {ImGuiKey_PageUp, "PageUp"},
                                           {ImGuiKey_PageDown, "PageDown"},
                                           {ImGuiKey_LeftArrow, "Left"},
                                           {ImGuiKey_RightArrow, "Right"},
                                           {ImGuiKey_UpArrow, "Up"},
                                           {ImGuiKey_DownArrow, "Down"}}};

bool control_held() {
  const ImGuiIO& io = ImGui::GetIO();
  return io.ConfigMacOSXBehaviors ? io.KeySuper : io.KeyCtrl;
}

std::string with_modifiers(const std::string& key) {
  const ImGuiIO& io = ImGui::GetIO();
  std::string chord;
  if (control_held()) chord += "Ctrl+";
  if (io.KeyAlt) chord += "Alt+";
  if (io.KeyShift) chord += "Shift+";
  return chord + key;
}

std::string of_character(ImWchar character) {
  if (character <= 32 || character > 126) return {};
  const char letter = static_cast<char>(character);
  const auto code = static_cast<unsigned char>(letter);
  if (std::isupper(code) != 0) return std::string("Shift+") + letter;
  return {static_cast<char>(std::toupper(code))};
}

}  // namespace

std::vector<std::string> typed_chords() {
  std::vector<std::string> chords;
  const ImGuiIO& io = ImGui::GetIO();
  const bool menu_open =
      ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
  if (io.WantTextInput || menu_open) return chords;
  for (const NamedKey& named : k_named) {
    if (ImGui::IsKeyPressed(named.key)) chords.push_back(with_modifiers(named.name));
  }
  if (control_held()) {
    for (int letter = 0; letter < 26; ++letter) {
      if (!ImGui::IsKeyPressed(static_cast<ImGuiKey>(ImGuiKey_A + letter), false)) continue;
      chords.push_back(with_modifiers(std::string(1, static_cast<char>('A' + letter))));
    }
    return chords;
  }
  for (const ImWchar character : io.InputQueueCharacters) {
    const std::string chord = of_character(character);
    if (!chord.empty()) chords.push_back(chord);
  }
  return chords;
}

}  // namespace page
