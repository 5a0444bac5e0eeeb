// The square of the target plane that is shown: where a point of the plane lies on the screen.
#pragma once

#include <imgui.h>

#include "base/vec.h"
#include "page/layout.h"

namespace target_card {

/// How a line is drawn.
struct Stroke {
  ImU32 colour;
  float width;
};

/// What the person looks at: the point in the middle, and how often larger than the fitted view.
struct PlateView {
  base::Vec2 centre_m{0.0, 0.0};
  double zoom = 1.0;
};

/// A square on the screen with its view of the plane (right, up).
struct Plate {
  page::Rect place;
  double half_m = 0.1;  ///< of the plane, from the middle to an edge
  base::Vec2 centre_m{0.0, 0.0};

  [[nodiscard]] double px_per_m() const { return 0.5 * place.width / half_m; }
  [[nodiscard]] ImVec2 on_screen(const base::Vec2& point_m) const;
  [[nodiscard]] base::Vec2 on_plane(const ImVec2& point) const;
};

/// The plate for a view of a receiver whose longer side is given.
Plate plate_of(const PlateView& view, const page::Rect& place, double receiver_side_m);

/// The view after the wheel: what lies under the pointer stays there.
PlateView zoomed(const PlateView& view, const Plate& plate, const ImVec2& pointer, double steps);

/// The view after a drag by so many pixels.
PlateView dragged(const PlateView& view, const Plate& plate, const ImVec2& drag);

/// A round length (1, 2 or 5 times a power of ten, metres) near a wanted one.
double round_length(double wanted_m);

}  // namespace target_card
