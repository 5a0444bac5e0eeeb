// What the coordinates of one low-discrepancy point mean for a ray.
#include "optics/ray_draw.h"

#include <cmath>

#include "base/elementary.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

Vec2 deviates(double x, double y, double sigma) {
  if (sigma == 0.0) return {0.0, 0.0};
  return {sigma * base::inverse_normal(x), sigma * base::inverse_normal(y)};
}

}  // namespace

Vec3 sun_ray(const Scene& scene, double x, double y) {
  const double radius = scene.sun_profile.radius(x);
  const auto [s, c] = base::sincos_turns(y);
  const Vec3 local{radius * c, radius * s, std::sqrt(1.0 - radius * radius)};
  return scene.dish_from_sun * local;
}

Turns draw_turns(const Scene& scene, const SceneFacet& facet, const double* x) {
  Turns turns;
  turns.slope = deviates(x[4], x[5], facet.slope_error_rad);
  turns.specularity = deviates(x[6], x[7], facet.specularity_error_rad);
  if (scene.secondary) {
    turns.secondary_slope = deviates(x[8], x[9], scene.secondary->slope_error_rad);
    turns.secondary_specularity = deviates(x[10], x[11], scene.secondary->specularity_error_rad);
  }
  return turns;
}

bool is_on_receiver(const SceneReceiver& receiver, const Vec2& board) {
  if (receiver.is_round) return glm::dot(board, board) <= receiver.half_m.x * receiver.half_m.x;
  return std::abs(board.x) <= receiver.half_m.x && std::abs(board.y) <= receiver.half_m.y;
}

}  // namespace optics
