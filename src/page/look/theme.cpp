// The values of the two themes and what they make of ImGui's style.
#include "page/look/theme.h"

#include <algorithm>
#include <cmath>

#include "page/platform/window.h"

namespace look {
namespace {

constexpr ImU32 hex(unsigned rgb) {
  return IM_COL32((rgb >> 16U) & 255U, (rgb >> 8U) & 255U, rgb & 255U, 255U);
}

Theme& current() {
  static Theme kept = theme_of(ThemeName::lamp);
  return kept;
}

Theme lamp() {
  return {.name = ThemeName::lamp,
          .ground = hex(0x14171A),
          .panel = hex(0x191C20),
          .raised = hex(0x23272C),
          .ink = hex(0xEDE6D9),
          .ink_soft = hex(0xABA498),
          .ink_faint = hex(0x757068),
          .rule = hex(0x32363B),
          .field = hex(0x22262B),
          .copper = hex(0xE28F56),
          .copper_soft = hex(0x4A3223),
          .on_copper = hex(0x17120E),
          .cool = hex(0x86B9CC),
          .cool_soft = hex(0x20343D),
          .danger = hex(0xFF7566),
          .danger_soft = hex(0x4B2421),
          .doubt = hex(0xE5C56E),
          .ok = hex(0x9DC78C),
          .sky = hex(0x1A1F25),
          .earth = hex(0x101214),
          .shade = IM_COL32(0, 0, 0, 150)};
}

Theme noon() {
  return {.name = ThemeName::noon,
          .ground = hex(0xFBF9F3),
          .panel = hex(0xF4F0E6),
          .raised = hex(0xFFFFFF),
          .ink = hex(0x14110C),
          .ink_soft = hex(0x49443A),
          .ink_faint = hex(0x857E71),
          .rule = hex(0xC6BEAE),
          .field = hex(0xE8E2D4),
          .copper = hex(0x944410),
          .copper_soft = hex(0xF0D8C3),
          .on_copper = hex(0xFFFFFF),
          .cool = hex(0x0E566F),
          .cool_soft = hex(0xCFE4EB),
          .danger = hex(0xB0150B),
          .danger_soft = hex(0xF8D8D3),
          .doubt = hex(0x7A5A00),
          .ok = hex(0x2B661D),
          .sky = hex(0xEEF2F3),
          .earth = hex(0xE6E0D2),
          .shade = IM_COL32(40, 35, 25, 110)};
}

void set_measures(ImGuiStyle& style) {
  style.WindowPadding = ImVec2(16.0F, 14.0F);
  style.FramePadding = ImVec2(8.0F, 5.0F);
  style.ItemSpacing = ImVec2(10.0F, 8.0F);
  style.ItemInnerSpacing = ImVec2(8.0F, 5.0F);
  style.CellPadding = ImVec2(8.0F, 4.0F);
  style.IndentSpacing = 16.0F;
  style.ScrollbarSize = 9.0F;
  style.GrabMinSize = 12.0F;
  style.WindowBorderSize = 0.0F;
  style.ChildBorderSize = 0.0F;
  style.FrameBorderSize = 0.0F;
  style.PopupBorderSize = 1.0F;
  style.TabBorderSize = 0.0F;
  style.WindowRounding = 0.0F;
  style.ChildRounding = 0.0F;
  style.FrameRounding = 3.0F;
  style.PopupRounding = 3.0F;
  style.GrabRounding = 3.0F;
  style.TabRounding = 0.0F;
  style.ScrollbarRounding = 4.0F;
  style.WindowTitleAlign = ImVec2(0.0F, 0.5F);
  style.ButtonTextAlign = ImVec2(0.5F, 0.5F);
  style.SeparatorTextBorderSize = 1.0F;
  style.SeparatorTextPadding = ImVec2(0.0F, 6.0F);
  style.DisabledAlpha = 0.55F;
  style.HoverDelayNormal = 0.35F;
  style.CircleTessellationMaxError = 0.15F;
}

void set_grounds(ImGuiStyle& style, const Theme& coat) {
  const auto set = [&style](ImGuiCol slot, ImU32 colour) {
    style.Colors[slot] = ImGui::ColorConvertU32ToFloat4(colour);
  };
  set(ImGuiCol_WindowBg, coat.ground);
  set(ImGuiCol_ChildBg, faded(coat.ground, 0.0F));
  set(ImGuiCol_PopupBg, coat.raised);
  set(ImGuiCol_MenuBarBg, coat.ground);
  set(ImGuiCol_TitleBg, coat.ground);
  set(ImGuiCol_TitleBgActive, coat.ground);
  set(ImGuiCol_TitleBgCollapsed, coat.ground);
  set(ImGuiCol_FrameBg, coat.field);
  set(ImGuiCol_FrameBgHovered, mixed(coat.field, coat.copper, 0.16F));
  set(ImGuiCol_FrameBgActive, mixed(coat.field, coat.copper, 0.28F));
  set(ImGuiCol_TableHeaderBg, faded(coat.ground, 0.0F));
  set(ImGuiCol_TableRowBg, faded(coat.ground, 0.0F));
  set(ImGuiCol_TableRowBgAlt, faded(coat.ink, 0.03F));
  set(ImGuiCol_ScrollbarBg, faded(coat.ground, 0.0F));
  set(ImGuiCol_ModalWindowDimBg, coat.shade);
  set(ImGuiCol_NavWindowingDimBg, coat.shade);
  set(ImGuiCol_Border, coat.rule);
  set(ImGuiCol_BorderShadow, faded(coat.rule, 0.0F));
  set(ImGuiCol_Separator, coat.rule);
  set(ImGuiCol_TableBorderStrong, coat.rule);
  set(ImGuiCol_TableBorderLight, faded(coat.rule, 0.6F));
}

void set_accents(ImGuiStyle& style, const Theme& coat) {
  const auto set = [&style](ImGuiCol slot, ImU32 colour) {
    style.Colors[slot] = ImGui::ColorConvertU32ToFloat4(colour);
  };
  set(ImGuiCol_Text, coat.ink);
  set(ImGuiCol_TextDisabled, coat.ink_soft);
  set(ImGuiCol_TextSelectedBg, faded(coat.copper, 0.35F));
  set(ImGuiCol_Button, coat.copper_soft);
  set(ImGuiCol_ButtonHovered, mixed(coat.copper_soft, coat.copper, 0.35F));
  set(ImGuiCol_ButtonActive, mixed(coat.copper_soft, coat.copper, 0.6F));
  set(ImGuiCol_Header, faded(coat.copper, 0.18F));
  set(ImGuiCol_HeaderHovered, faded(coat.copper, 0.26F));
  set(ImGuiCol_HeaderActive, faded(coat.copper, 0.38F));
  set(ImGuiCol_CheckMark, coat.copper);
  set(ImGuiCol_SliderGrab, coat.copper);
  set(ImGuiCol_SliderGrabActive, mixed(coat.copper, coat.ink, 0.25F));
  set(ImGuiCol_ScrollbarGrab, faded(coat.ink, 0.16F));
  set(ImGuiCol_ScrollbarGrabHovered, faded(coat.ink, 0.30F));
  set(ImGuiCol_ScrollbarGrabActive, coat.copper);
  set(ImGuiCol_SeparatorHovered, coat.copper);
  set(ImGuiCol_SeparatorActive, coat.copper);
  set(ImGuiCol_ResizeGrip, faded(coat.ink, 0.0F));
  set(ImGuiCol_ResizeGripHovered, coat.copper_soft);
  set(ImGuiCol_ResizeGripActive, coat.copper);
  set(ImGuiCol_Tab, faded(coat.ground, 0.0F));
  set(ImGuiCol_TabHovered, coat.copper_soft);
  set(ImGuiCol_TabActive, coat.copper_soft);
  set(ImGuiCol_TabUnfocused, faded(coat.ground, 0.0F));
  set(ImGuiCol_TabUnfocusedActive, coat.copper_soft);
  set(ImGuiCol_PlotLines, coat.cool);
  set(ImGuiCol_PlotLinesHovered, coat.copper);
  set(ImGuiCol_PlotHistogram, coat.copper);
  set(ImGuiCol_PlotHistogramHovered, coat.copper);
  set(ImGuiCol_DragDropTarget, coat.copper);
  set(ImGuiCol_NavHighlight, coat.copper);
  set(ImGuiCol_NavWindowingHighlight, coat.copper);
}

double linear(ImU32 colour, unsigned shift) {
  const double coded = static_cast<double>((colour >> shift) & 255U) / 255.0;
  return coded <= 0.04045 ? coded / 12.92 : std::pow((coded + 0.055) / 1.055, 2.4);
}

double luminance(ImU32 colour) {
  return 0.2126 * linear(colour, IM_COL32_R_SHIFT) + 0.7152 * linear(colour, IM_COL32_G_SHIFT) +
         0.0722 * linear(colour, IM_COL32_B_SHIFT);
}

}  // namespace

Theme theme_of(ThemeName name) { return name == ThemeName::noon ? noon() : lamp(); }

const Theme& theme() { return current(); }

void apply(ThemeName name) {
  current() = theme_of(name);
  ImGuiStyle& style = ImGui::GetStyle();
  style = ImGuiStyle();
  set_measures(style);
  set_grounds(style, current());
  set_accents(style, current());
  const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(current().ground);
  platform::set_backdrop(ground.x, ground.y, ground.z);
  platform::request_frames(2);
}

ImU32 faded(ImU32 colour, float opacity) {
  const auto byte = static_cast<ImU32>(std::lround(std::clamp(opacity, 0.0F, 1.0F) * 255.0F));
  return (colour & ~IM_COL32_A_MASK) | (byte << IM_COL32_A_SHIFT);
}

ImU32 mixed(ImU32 from, ImU32 to, float share) {
  const ImVec4 a = ImGui::ColorConvertU32ToFloat4(from);
  const ImVec4 b = ImGui::ColorConvertU32ToFloat4(to);
  const auto part = [share](float x, float y) { return x + (y - x) * share; };
  return ImGui::ColorConvertFloat4ToU32(
      ImVec4(part(a.x, b.x), part(a.y, b.y), part(a.z, b.z), part(a.w, b.w)));
}

double contrast(ImU32 one, ImU32 other) {
  const double a = luminance(one);
  const double b = luminance(other);
  return (std::max(a, b) + 0.05) / (std::min(a, b) + 0.05);
}

}  // namespace look
