// What is on the screen, item by item, for the browser tests: they find a control by its label and
// press it as a person would.
#pragma once

#include <string>

namespace platform {

/// Starts or stops noting every item of each frame. Off unless a test asks.
void watch_items(bool on);

/// The last frame's items as a JSON list of {"id", "rect":[x,y,w,h], "visible", "flags", "window",
/// "label"}; rectangles in CSS pixels. "visible": some of it lies inside its window's clip
/// rectangle.
[[nodiscard]] std::string item_table();

/// Adds an item that ImGui does not know by itself, such as a dial drawn by hand or a facet in the
/// 3D view. Does nothing while nobody watches.
void note_item(const char* label, float x, float y, float width, float height);

}  // namespace platform
