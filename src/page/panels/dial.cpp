// The dial's drawing and its drag.
#include "page/panels/dial.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"

namespace page {
namespace {

constexpr float k_scale_inner = 0.84F;  // of the outer radius
constexpr float k_head = 0.62F;
constexpr float k_arc = 0.74F;
constexpr double k_shown_whole_turns = 0.985;  // a longer arc would close and hide its ends

/// Point on a circle at an angle clockwise from the top, as a person reads a clock.
ImVec2 on_clock(ImVec2 middle, float radius, double turns) {
  const double angle = turns * 2.0 * base::k_pi;
  return {middle.x + radius * static_cast<float>(std::sin(angle)),
          middle.y - radius * static_cast<float>(std::cos(angle))};
}

void draw_scale(ImDrawList& draw, ImVec2 middle, float radius, int clicks) {
  const look::Theme& t = look::theme();
  const int ticks = clicks > 48 ? 12 : clicks;
  for (int i = 0; i < ticks; ++i) {
    const double turn = static_cast<double>(i) / ticks;
    const bool quarter = (4 * i) % ticks == 0;
    draw.AddLine(on_clock(middle, radius * (quarter ? k_scale_inner : 0.90F), turn),
                 on_clock(middle, radius, turn), quarter ? t.ink_soft : t.rule,
                 quarter ? 1.5F : 1.0F);
  }
}

void draw_head(ImDrawList& draw, ImVec2 middle, float radius, double turns, bool hovered,
               bool possible) {
  const look::Theme& t = look::theme();
  const float r = radius * k_head;
  const ImU32 metal = look::mixed(t.field, t.ink, hovered ? 0.26F : 0.18F);
  draw.AddCircleFilled(middle, r, metal, 48);
  draw.AddCircleFilled({middle.x - r * 0.12F, middle.y - r * 0.16F}, r * 0.80F,
                       look::mixed(metal, t.ink, 0.06F), 48);
  draw.AddCircle(middle, r, look::mixed(t.rule, t.ink, 0.35F), 48, 1.2F);
  const ImU32 slot = possible ? t.ground : look::mixed(metal, t.ground, 0.5F);
  draw.AddLine(on_clock(middle, r * 0.78F, turns), on_clock(middle, -r * 0.78F, turns), slot,
               std::max(3.0F, r * 0.16F));
  draw.AddCircleFilled(on_clock(middle, r * 0.60F, turns), std::max(1.8F, r * 0.07F), t.copper, 12);
}

void draw_arrow_head(ImDrawList& draw, ImVec2 middle, float radius, double turn, bool clockwise,
                     ImU32 colour) {
  const float length = std::max(7.0F, radius * 0.18F);
  const double step = (clockwise ? 1.0 : -1.0) * length / (2.0 * base::k_pi * radius);
  draw.AddTriangleFilled(on_clock(middle, radius, turn + step),
                         on_clock(middle, radius + length * 0.55F, turn),
                         on_clock(middle, radius - length * 0.55F, turn), colour);
}

/// The correction: from where the slot's mark stands, the way it must go. Whole turns are written.
void draw_told(ImDrawList& draw, ImVec2 middle, float radius, double from, double told) {
  const look::Theme& t = look::theme();
  const double shown = std::clamp(told, -k_shown_whole_turns, k_shown_whole_turns);
  const int parts = std::max(8, static_cast<int>(std::fabs(shown) * 64.0));
  for (int i = 0; i <= parts; ++i) {
    draw.PathLineTo(on_clock(middle, radius * k_arc, from + shown * i / parts));
  }
  draw.PathStroke(t.copper, ImDrawFlags_None, 3.0F);
  draw_arrow_head(draw, middle, radius * k_arc, from + shown, told > 0.0, t.copper);
}

double angle_of_mouse(ImVec2 middle) {
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  return std::atan2(mouse.x - middle.x, middle.y - mouse.y);
}

/// Adds what the mouse went round since the last frame, the short way.
void follow_mouse(DialMemory& memory, ImVec2 middle, bool fine) {
  const double angle = angle_of_mouse(middle);
  double moved = angle - memory.last_angle_rad;
  if (moved > base::k_pi) moved -= 2.0 * base::k_pi;
  if (moved < -base::k_pi) moved += 2.0 * base::k_pi;
  memory.last_angle_rad = angle;
  memory.turns += moved / (2.0 * base::k_pi) * (fine ? 0.1 : 1.0);
}

DialOutcome drag(const DialView& view, ImVec2 middle, DialMemory& memory) {
  DialOutcome outcome;
  if (ImGui::IsItemActivated()) {
    memory = {.active = true, .last_angle_rad = angle_of_mouse(middle), .turns = view.turns_now};
    outcome.began = true;
  } else if (memory.active && ImGui::IsItemActive()) {
    const double before = memory.turns;
    follow_mouse(memory, middle, ImGui::GetIO().KeyShift);
    if (memory.turns != before) outcome.turns = memory.turns;
    outcome.cancelled = ImGui::IsKeyPressed(ImGuiKey_Escape, false);
  }
  outcome.ended = memory.active && (ImGui::IsItemDeactivated() || outcome.cancelled);
  if (outcome.ended) memory.active = false;
  return outcome;
}

}  // namespace

DialOutcome dial(const char* id, const DialView& view, float size, DialMemory& memory) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const ImVec2 middle{corner.x + size * 0.5F, corner.y + size * 0.5F};
  const float radius = size * 0.5F - 3.0F;
  ImGui::BeginDisabled(!view.possible);
  ImGui::InvisibleButton(id, ImVec2(size, size));
  ImGui::EndDisabled();
  const bool hovered = view.possible && (ImGui::IsItemHovered() || memory.active);
  DialOutcome outcome;
  if (view.possible) outcome = drag(view, middle, memory);
  const float wheel = ImGui::GetIO().MouseWheel;
  if (hovered && wheel != 0.0F && !memory.active) {
    outcome.turns = view.turns_now + (wheel > 0.0F ? 1.0 : -1.0) / view.clicks_per_turn;
  }

  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const look::Theme& t = look::theme();
  if (view.selected) draw.AddCircle(middle, radius + 2.0F, t.copper, 64, 1.5F);
  draw_scale(draw, middle, radius, view.clicks_per_turn);
  draw_head(draw, middle, radius, view.turns_now, hovered, view.possible);
  if (view.turns_told && view.possible && std::fabs(*view.turns_told) > 1e-6) {
    draw_told(draw, middle, radius, view.turns_now, *view.turns_told);
  }
  if (hovered && !memory.active) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  return outcome;
}

}  // namespace page
