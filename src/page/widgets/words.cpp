// Text, rules and beads in the page's own hand.
#include "page/widgets/words.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "page/look/ramp.h"
#include "page/look/theme.h"

namespace widgets {
namespace {

constexpr float k_tip_width = 300.0f;
constexpr float k_bead = 5.5f;

ImVec2 draw_text(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text,
                 look::FontSize size, float shift) {
  const look::Font chosen(size);
  const ImVec2 extent = ImGui::CalcTextSize(text.data(), text.data() + text.size());
  const ImVec2 corner{std::round(place.x - shift * extent.x), std::round(place.y)};
  draw.AddText(corner, colour, text.data(), text.data() + text.size());
  return extent;
}

}  // namespace

bool word(const char* label, bool chosen, const char* hint) {
  const look::Theme& theme = look::theme();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const ImVec2 extent = ImGui::CalcTextSize(label, nullptr, true);
  const ImVec2 area{extent.x + 8.0f, extent.y + 10.0f};
  const bool clicked = ImGui::InvisibleButton(label, area);
  const bool lit = ImGui::IsItemHovered() || ImGui::IsItemFocused();
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const ImU32 colour = chosen ? theme.copper : lit ? theme.ink : theme.ink_soft;
  const char* end = label;
  while (*end != '\0' && !(end[0] == '#' && end[1] == '#')) ++end;
  draw.AddText({corner.x + 4.0f, corner.y + 5.0f}, colour, label, end);
  if (chosen || lit) {
    const float y = corner.y + extent.y + 7.5f;
    draw.AddLine({corner.x + 4.0f, y}, {corner.x + 4.0f + extent.x, y},
                 chosen ? theme.copper : theme.rule, chosen ? 1.5f : 1.0f);
  }
  if (hint != nullptr) hint_for_last(hint);
  return clicked;
}

void hint_for_last(const char* sentence) {
  if (!ImGui::IsItemHovered(ImGuiHoveredFlags_DelayNormal | ImGuiHoveredFlags_NoSharedDelay |
                            ImGuiHoveredFlags_AllowWhenDisabled)) {
    return;
  }
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(12.0f, 9.0f));
  if (ImGui::BeginTooltip()) {
    ImGui::PushTextWrapPos(k_tip_width);
    ImGui::TextUnformatted(sentence);
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
  }
  ImGui::PopStyleVar();
}

ImVec2 text_at(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text,
               look::FontSize size) {
  return draw_text(draw, place, colour, text, size, 0.0f);
}

ImVec2 text_ending_at(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text,
                      look::FontSize size) {
  return draw_text(draw, place, colour, text, size, 1.0f);
}

ImVec2 text_centred_at(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text,
                       look::FontSize size) {
  return draw_text(draw, place, colour, text, size, 0.5f);
}

ImVec2 text_size(const std::string& text, look::FontSize size) {
  const look::Font chosen(size);
  return ImGui::CalcTextSize(text.data(), text.data() + text.size());
}

void label_at(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text) {
  const ImVec2 extent = text_size(text);
  const ImVec2 corner{std::round(place.x), std::round(place.y)};
  draw.AddRectFilled({corner.x - 4.0f, corner.y - 1.0f},
                     {corner.x + extent.x + 4.0f, corner.y + extent.y + 1.0f},
                     look::faded(look::theme().ground, 0.72f), 3.0f);
  text_at(draw, corner, colour, text);
}

void rule_across(ImDrawList& draw, float left, float right, float y) {
  draw.AddLine({left, std::floor(y) + 0.5f}, {right, std::floor(y) + 0.5f}, look::theme().rule);
}

void rule_down(ImDrawList& draw, float x, float top, float bottom) {
  draw.AddLine({std::floor(x) + 0.5f, top}, {std::floor(x) + 0.5f, bottom}, look::theme().rule);
}

bool thin_slider(const ThinSlider& slider, double& value) {
  const look::Theme& theme = look::theme();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  constexpr float k_height = 22.0f;
  ImGui::InvisibleButton(slider.id, {slider.width, k_height});
  const bool active = ImGui::IsItemActive();
  const bool hovered = ImGui::IsItemHovered();
  const double before = value;
  const float left = corner.x + k_bead;
  const float span = slider.width - 2.0f * k_bead;
  if (active) {
    const double share = std::clamp((ImGui::GetIO().MousePos.x - left) / span, 0.0f, 1.0f);
    value = slider.least + share * (slider.most - slider.least);
  }
  if (hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) value = slider.home;
  if (ImGui::IsItemFocused()) {
    if (ImGui::IsKeyPressed(ImGuiKey_LeftArrow)) value -= slider.key_step;
    if (ImGui::IsKeyPressed(ImGuiKey_RightArrow)) value += slider.key_step;
  }
  value = std::clamp(value, slider.least, slider.most);
  const float y = corner.y + 0.5f * k_height;
  const auto place = [&](double at) {
    return left + span * static_cast<float>((at - slider.least) / (slider.most - slider.least));
  };
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddLine({left, y}, {left + span, y}, theme.rule, 1.5f);
  draw.AddLine({place(slider.home), y - 4.0f}, {place(slider.home), y + 4.0f}, theme.ink_faint);
  draw.AddLine({place(slider.home), y}, {place(value), y}, theme.copper, 1.5f);
  draw.AddCircleFilled({place(value), y}, active || hovered ? k_bead + 1.0f : k_bead, theme.copper,
                       20);
  return value != before;
}

void progress_ring(ImDrawList& draw, const ImVec2& middle, float radius, double share) {
  const look::Theme& theme = look::theme();
  draw.AddCircle(middle, radius, theme.rule, 32, 2.0f);
  const auto top = static_cast<float>(-0.5 * base::k_pi);
  const auto swept = static_cast<float>(2.0 * base::k_pi * std::clamp(share, 0.0, 1.0));
  if (swept > 0.0f) {
    draw.PathArcTo(middle, radius, top, top + swept, 32);
    draw.PathStroke(theme.cool, 0, 2.0f);
  }
  if (share >= 1.0) {
    const float step = 0.42f * radius;
    draw.PathLineTo({middle.x - step, middle.y});
    draw.PathLineTo({middle.x - 0.2f * step, middle.y + 0.8f * step});
    draw.PathLineTo({middle.x + 1.1f * step, middle.y - 0.8f * step});
    draw.PathStroke(theme.cool, 0, 1.5f);
  }
}

void ramp_bar(ImDrawList& draw, const ImVec2& from, const ImVec2& to, double first_share) {
  constexpr int k_pieces = 32;
  const auto colour = [&](int piece) {
    const look::Rgb rgb = look::ramp(first_share + (1.0 - first_share) * piece / k_pieces);
    return ImGui::ColorConvertFloat4ToU32({static_cast<float>(rgb.red),
                                           static_cast<float>(rgb.green),
                                           static_cast<float>(rgb.blue), 1.0f});
  };
  const float step = (to.x - from.x) / k_pieces;
  for (int piece = 0; piece < k_pieces; ++piece) {
    const float left = from.x + step * static_cast<float>(piece);
    draw.AddRectFilledMultiColor({left, from.y}, {left + step, to.y}, colour(piece),
                                 colour(piece + 1), colour(piece + 1), colour(piece));
  }
}

}  // namespace widgets
