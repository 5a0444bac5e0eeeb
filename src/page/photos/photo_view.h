// How a photo lies on the screen.
#pragma once

#include <imgui.h>

#include "base/vec.h"
#include "page/layout.h"

namespace page {

/// From the photo's pixels to the screen.
struct PhotoView {
  Rect place;
  double scale = 1.0;
  base::Vec2 middle_px{0.0, 0.0};

  [[nodiscard]] ImVec2 on_screen(const base::Vec2& px) const {
    return {place.x + 0.5F * place.width + static_cast<float>((px.x - middle_px.x) * scale),
            place.y + 0.5F * place.height + static_cast<float>((px.y - middle_px.y) * scale)};
  }
  [[nodiscard]] base::Vec2 in_photo(const ImVec2& at) const {
    return {middle_px.x + (at.x - place.x - 0.5F * place.width) / scale,
            middle_px.y + (at.y - place.y - 0.5F * place.height) / scale};
  }
};

}  // namespace page
