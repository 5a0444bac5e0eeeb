// Where the regions of the page stand: one pure function from the window's size to rectangles.
#pragma once

namespace page {

/// A rectangle in CSS pixels, from the window's top left corner.
struct Rect {
  float x = 0.0f;
  float y = 0.0f;
  float width = 0.0f;
  float height = 0.0f;

  [[nodiscard]] float right() const { return x + width; }
  [[nodiscard]] float bottom() const { return y + height; }
};

/// The regions of the page. Neighbours touch; the thin rules are drawn on the shared edges.
struct Layout {
  Rect job_line;
  Rect bench;
  Rect yard;
  Rect card;
  Rect strip;
  Rect watts;
};

inline constexpr float k_least_width = 1024.0f;
inline constexpr float k_least_height = 700.0f;

/// Regions for a window of this size in CSS pixels. Smaller windows than k_least_width by
/// k_least_height are laid out as that size and cut off at the right and the bottom.
Layout lay_out(float width, float height);

}  // namespace page
