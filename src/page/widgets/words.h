// Words that act, and the small drawn things beside them. Nothing here keeps state.
#pragma once

#include <imgui.h>

#include <string>

#include "page/look/fonts.h"

namespace widgets {

/// A word that can be clicked: plain text, copper and underlined when chosen. True when clicked.
bool word(const char* label, bool chosen, const char* hint = nullptr);

/// Shows a sentence for the last item when the pointer rests on it, wrapped and in our own style.
void hint_for_last(const char* sentence);

/// Text drawn straight onto the page; returns its size.
ImVec2 text_at(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text,
               look::FontSize size = look::FontSize::body);
/// The same, ending at `place.x`.
ImVec2 text_ending_at(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text,
                      look::FontSize size = look::FontSize::body);
/// The same, centred on `place.x`.
ImVec2 text_centred_at(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text,
                       look::FontSize size = look::FontSize::body);

/// Size that text would take.
ImVec2 text_size(const std::string& text, look::FontSize size = look::FontSize::body);

/// A label over a picture: the text with a soft ground behind it, so that it reads on anything.
void label_at(ImDrawList& draw, const ImVec2& place, ImU32 colour, const std::string& text);

/// Thin rules.
void rule_across(ImDrawList& draw, float left, float right, float y);
void rule_down(ImDrawList& draw, float x, float top, float bottom);

/// A slider of one thin line with a copper bead; dragging or the arrow keys move it. True while it
/// changes `value`. Double click sets `home`.
struct ThinSlider {
  const char* id;
  float width;
  double least;
  double most;
  double home;
  double key_step;
};
bool thin_slider(const ThinSlider& slider, double& value);

/// Progress as a ring that closes; `share` 0..1. A full ring gets a check mark.
void progress_ring(ImDrawList& draw, const ImVec2& middle, float radius, double share);

/// The map's ramp from left (zero) to right, without ticks. `from`: the ramp's share at the left.
void ramp_bar(ImDrawList& draw, const ImVec2& from, const ImVec2& to, double first_share = 0.0);

}  // namespace widgets
