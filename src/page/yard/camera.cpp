// Plain orbit camera; every function is pure.
#include "page/yard/camera.h"

#include <algorithm>
#include <cmath>
#include <glm/gtc/matrix_transform.hpp>

#include "base/units.h"

namespace yard {
namespace {

constexpr double k_nearest_of_distance = 0.02;
constexpr double k_zoom_per_step = 0.12;

base::Vec3 shift_at_target(const Camera& camera, const Picture& picture, const base::Vec2& drag) {
  const Eye eye = eye_of(camera);
  const double per_pixel =
      2.0 * camera.distance_m * half_tangents(picture).y / std::max(picture.height, 1.0);
  return per_pixel * (-drag.x * eye.right + drag.y * eye.up);
}

}  // namespace

Eye eye_of(const Camera& camera) {
  const double ca = std::cos(camera.azimuth_rad);
  const double sa = std::sin(camera.azimuth_rad);
  const double ce = std::cos(camera.elevation_rad);
  const double se = std::sin(camera.elevation_rad);
  Eye eye;
  eye.back = {sa * ce, -ca * ce, se};
  eye.right = {ca, sa, 0.0};
  eye.up = {-sa * se, ca * se, ce};
  eye.place = camera.target + camera.distance_m * eye.back;
  return eye;
}

base::Vec2 half_tangents(const Picture& picture) {
  const double tangent = std::tan(0.5 * k_field_of_view_rad);
  const double lesser = std::max(std::min(picture.width, picture.height), 1.0);
  return {tangent * picture.width / lesser, tangent * picture.height / lesser};
}

glm::dmat4 clip_from_world(const Camera& camera, const Picture& picture) {
  const base::Vec2 tangents = half_tangents(picture);
  const double nearest = k_nearest_of_distance * camera.distance_m;
  const double farthest = 60.0 * camera.distance_m + 60.0;
  const glm::dmat4 clip_from_eye =
      glm::frustum(-tangents.x * nearest, tangents.x * nearest, -tangents.y * nearest,
                   tangents.y * nearest, nearest, farthest);
  const Eye eye = eye_of(camera);
  return clip_from_eye * glm::lookAt(eye.place, eye.place - eye.back, eye.up);
}

Projected project(const Camera& camera, const Picture& picture, const base::Vec3& point_world) {
  const Eye eye = eye_of(camera);
  const base::Vec3 from_eye = point_world - eye.place;
  const double depth = -glm::dot(from_eye, eye.back);
  const base::Vec2 tangents = half_tangents(picture);
  const double safe = std::abs(depth) < 1e-9 ? 1e-9 : depth;
  const base::Vec2 share{glm::dot(from_eye, eye.right) / (safe * tangents.x),
                         glm::dot(from_eye, eye.up) / (safe * tangents.y)};
  return {{(0.5 + 0.5 * share.x) * picture.width, (0.5 - 0.5 * share.y) * picture.height}, depth};
}

base::Vec3 direction_through(const Camera& camera, const Picture& picture,
                             const base::Vec2& place) {
  const Eye eye = eye_of(camera);
  const base::Vec2 tangents = half_tangents(picture);
  const double across = (2.0 * place.x / picture.width - 1.0) * tangents.x;
  const double upward = (1.0 - 2.0 * place.y / picture.height) * tangents.y;
  return base::unit(across * eye.right + upward * eye.up - eye.back);
}

Camera orbit(Camera camera, const Picture& picture, const base::Vec2& drag) {
  const double per_pixel = base::k_pi / std::max(std::min(picture.width, picture.height), 1.0);
  camera.azimuth_rad = std::remainder(camera.azimuth_rad - per_pixel * drag.x, 2.0 * base::k_pi);
  camera.elevation_rad =
      std::clamp(camera.elevation_rad + per_pixel * drag.y, -k_steepest_rad, k_steepest_rad);
  return camera;
}

Camera pan(Camera camera, const Picture& picture, const base::Vec2& drag) {
  camera.target += shift_at_target(camera, picture, drag);
  return camera;
}

Camera zoom(Camera camera, const Picture& picture, double steps, const base::Vec2& place,
            double reach_m) {
  const double wanted = camera.distance_m * std::exp(-k_zoom_per_step * steps);
  const double distance = std::clamp(wanted, 0.15 * reach_m, 40.0 * reach_m);
  const base::Vec2 middle{0.5 * picture.width, 0.5 * picture.height};
  const base::Vec3 toward = shift_at_target(camera, picture, middle - place);
  camera.target += (1.0 - distance / camera.distance_m) * toward;
  camera.distance_m = distance;
  return camera;
}

Camera between(const Camera& from, const Camera& to, double share) {
  const double turn = std::remainder(to.azimuth_rad - from.azimuth_rad, 2.0 * base::k_pi);
  return {.target = from.target + share * (to.target - from.target),
          .azimuth_rad = from.azimuth_rad + share * turn,
          .elevation_rad = from.elevation_rad + share * (to.elevation_rad - from.elevation_rad),
          .distance_m = from.distance_m * std::pow(to.distance_m / from.distance_m, share)};
}

}  // namespace yard
