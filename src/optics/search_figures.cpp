// Flux on the receiver alone, from a map that reaches beyond it.
#include "optics/search_figures.h"

#include <algorithm>
#include <cmath>

#include "optics/scene.h"

namespace optics {

std::vector<double> receiver_mask(const SceneReceiver& receiver, int cells, double width_m) {
  constexpr int k_points = 8;
  const double cell = width_m / cells;
  std::vector<double> mask(static_cast<std::size_t>(cells) * static_cast<std::size_t>(cells), 0.0);
  for (int row = 0; row < cells; ++row) {
    for (int column = 0; column < cells; ++column) {
      int inside = 0;
      for (int k = 0; k < k_points * k_points; ++k) {
        const double x = (column + (k % k_points + 0.5) / k_points) * cell - 0.5 * width_m;
        const double y = (row + (k / k_points + 0.5) / k_points) * cell - 0.5 * width_m;
        const double u = x / receiver.half_m.x;
        const double v = y / receiver.half_m.y;
        const bool on =
            receiver.is_round ? u * u + v * v <= 1.0 : std::abs(u) <= 1.0 && std::abs(v) <= 1.0;
        inside += on ? 1 : 0;
      }
      mask[static_cast<std::size_t>(row * cells + column)] =
          static_cast<double>(inside) / (k_points * k_points);
    }
  }
  return mask;
}

SearchFigures search_figures(const LiveState& light) {
  const TraceResult& traced = light.figures;
  const FluxMap& map = traced.map;
  const std::vector<double> mask = receiver_mask(light.scene->receiver, map.columns, map.size_m.x);
  SearchFigures figures;
  figures.receiver_W = traced.power_receiver_W;
  figures.plane_W = traced.power_plane_W;
  figures.intercept_factor = traced.intercept_factor;
  figures.peak_W_m2 = traced.peak_W_m2;
  figures.mean_concentration = traced.mean_concentration;
  for (std::size_t k = 0; k < mask.size(); ++k) {
    if (mask[k] > 0.0) figures.most_flux_W_m2 = std::max(figures.most_flux_W_m2, map.flux_W_m2[k]);
  }
  const double mean = traced.mean_concentration * traced.dni_W_m2;
  if (figures.most_flux_W_m2 > 0.0) figures.uniformity = mean / figures.most_flux_W_m2;
  return figures;
}

double receiver_width(const dish::Receiver& receiver) {
  if (const auto* disc = std::get_if<dish::DiscReceiver>(&receiver.shape)) return disc->diameter_m;
  const auto& rectangle = std::get<dish::RectangleReceiver>(receiver.shape);
  return std::max(rectangle.width_m, rectangle.height_m);
}

void set_receiver_width(dish::Receiver& receiver, double width_m) {
  const double scale = width_m / receiver_width(receiver);
  if (auto* disc = std::get_if<dish::DiscReceiver>(&receiver.shape)) {
    disc->diameter_m = width_m;
    return;
  }
  auto& rectangle = std::get<dish::RectangleReceiver>(receiver.shape);
  rectangle.width_m *= scale;
  rectangle.height_m *= scale;
}

}  // namespace optics
