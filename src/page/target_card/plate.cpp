// Plane to screen and back: up is up, right is right.
#include "page/target_card/plate.h"

#include <algorithm>
#include <cmath>

namespace target_card {
namespace {

constexpr double k_fitted_of_side = 0.68;  // half the plate, of the receiver's longer side
constexpr double k_least_zoom = 0.25;
constexpr double k_most_zoom = 60.0;

}  // namespace

ImVec2 Plate::on_screen(const base::Vec2& point_m) const {
  const base::Vec2 from_middle = px_per_m() * (point_m - centre_m);
  return {place.x + 0.5f * place.width + static_cast<float>(from_middle.x),
          place.y + 0.5f * place.height - static_cast<float>(from_middle.y)};
}

base::Vec2 Plate::on_plane(const ImVec2& point) const {
  const base::Vec2 from_middle{point.x - place.x - 0.5f * place.width,
                               place.y + 0.5f * place.height - point.y};
  return centre_m + from_middle / px_per_m();
}

Plate plate_of(const PlateView& view, const page::Rect& place, double receiver_side_m) {
  return {place, k_fitted_of_side * std::max(receiver_side_m, 1e-3) / view.zoom, view.centre_m};
}

PlateView zoomed(const PlateView& view, const Plate& plate, const ImVec2& pointer, double steps) {
  PlateView next = view;
  next.zoom = std::clamp(view.zoom * std::exp(0.18 * steps), k_least_zoom, k_most_zoom);
  const base::Vec2 held = plate.on_plane(pointer);
  next.centre_m = held + (view.zoom / next.zoom) * (view.centre_m - held);
  return next;
}

PlateView dragged(const PlateView& view, const Plate& plate, const ImVec2& drag) {
  PlateView next = view;
  next.centre_m += base::Vec2(-drag.x, drag.y) / plate.px_per_m();
  return next;
}

double round_length(double wanted_m) {
  const double decade = std::pow(10.0, std::floor(std::log10(std::max(wanted_m, 1e-6))));
  for (const double step : {1.0, 2.0, 5.0}) {
    if (wanted_m <= 1.45 * step * decade) return step * decade;
  }
  return 10.0 * decade;
}

}  // namespace target_card
