// Pieces that face the eye are squares about their middle; the spot lies where the receiver is.
#include "page/yard/lights.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/units.h"
#include "page/widgets/light.h"

namespace yard {
namespace {

constexpr double k_above_plate_m = 0.0008;
constexpr std::array<base::Vec2, 4> k_square{{{-1.0, -1.0}, {1.0, -1.0}, {1.0, 1.0}, {-1.0, 1.0}}};

std::vector<base::Vec2> receiver_corners(const optics::SceneReceiver& receiver) {
  std::vector<base::Vec2> corners;
  if (!receiver.is_round) {
    for (const base::Vec2& corner : k_square) corners.push_back(corner * receiver.half_m);
    return corners;
  }
  constexpr int k_steps = 48;
  for (int i = 0; i < k_steps; ++i) {
    const double angle = 2.0 * base::k_pi * i / k_steps;
    corners.emplace_back(receiver.half_m.x * std::cos(angle), receiver.half_m.x * std::sin(angle));
  }
  return corners;
}

LightPiece facing_eye(LightPiece::Kind kind, const base::Vec3& middle, double radius_m,
                      const Camera& camera) {
  const Eye eye = eye_of(camera);
  LightPiece piece{.kind = kind};
  for (const base::Vec2& corner : k_square) {
    piece.corners.emplace_back(middle + radius_m * (corner.x * eye.right + corner.y * eye.up));
    piece.places.emplace_back(corner);
  }
  return piece;
}

}  // namespace

void add_spot(std::vector<LightPiece>& lights, const optics::Scene& scene,
              const optics::FluxMap& map, double exposure, const Ground& ground,
              const Camera& camera) {
  if (map.columns <= 0 || map.rows <= 0) return;
  const base::Pose& board = scene.receiver.dish_from_board;
  LightPiece spot{.kind = LightPiece::Kind::flux};
  for (const base::Vec2& corner : receiver_corners(scene.receiver)) {
    const base::Vec3 on_board{corner.x, corner.y, k_above_plate_m};
    spot.corners.emplace_back(
        base::point_to_outer(ground.world_from_dish, base::point_to_outer(board, on_board)));
    spot.places.emplace_back((corner - map.centre_m) / map.size_m + 0.5);
  }
  const base::Vec3 middle = base::point_to_outer(ground.world_from_dish, board.origin);
  const base::Vec3 lit = base::direction_to_outer(ground.world_from_dish, board.z());
  const double facing = glm::dot(base::unit(eye_of(camera).place - middle), lit);
  if (facing <= 0.0) return;  // who stands behind the plate sees no spot
  lights.push_back(std::move(spot));
  LightPiece halo = facing_eye(LightPiece::Kind::halo, middle + 0.01 * lit,
                               1.5 * scene.receiver.longer_side_m, camera);
  const widgets::Glow glow = widgets::glow_of(0.5 * exposure);
  halo.tone = {glow.red, glow.green, glow.blue, static_cast<float>(0.30 * std::sqrt(facing))};
  lights.push_back(std::move(halo));
}

void add_sun(std::vector<LightPiece>& lights, const SunPlace& sun, const Palette& palette,
             const Camera& camera) {
  LightPiece bloom = facing_eye(LightPiece::Kind::halo, sun.disc_world, 3.6 * sun.radius_m, camera);
  bloom.tone = {palette.sun_disc, 0.45f};
  bloom.cover = palette.light_covers ? 1.0f : 0.0f;
  lights.push_back(std::move(bloom));
  LightPiece disc = facing_eye(LightPiece::Kind::disc, sun.disc_world, sun.radius_m, camera);
  disc.tone = {palette.sun_disc, 1.0f};
  disc.cover = 1.0f;
  lights.push_back(std::move(disc));
}

}  // namespace yard
