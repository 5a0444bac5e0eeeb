#include "support/look_back_scene.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include "base/elementary.h"
#include "support/photo_scene.h"

namespace support {
namespace {

using base::Vec2;
using base::Vec3;

constexpr int k_samples = 2;  ///< across a pixel

struct LookingCamera {
  Vec3 forward;
  Vec3 right;
  Vec3 down;
};

LookingCamera looking(const LookBackScene& scene) {
  const Vec3 forward = base::unit(scene.looks_at_m - scene.camera_m);
  const Vec3 level = base::unit(glm::cross(forward, Vec3(0.0, 1.0, 0.0)));
  const Vec3 below = glm::cross(forward, level);
  const base::SinCos roll = base::sincos_turns(scene.roll_turns);
  const Vec3 right = roll.cos * level + roll.sin * below;
  return {forward, right, glm::cross(forward, right)};
}

/// Where a ray meets the mirror's surface, and the surface's normal there.
struct Meeting {
  Vec3 point;
  Vec3 normal;
};

std::optional<Meeting> meet(const DrawnMirror& mirror, const Vec3& from, const Vec3& way) {
  Meeting hit{Vec3(0.0), mirror.normal};
  if (mirror.radius_m == 0.0) {
    const double falling = glm::dot(way, mirror.normal);
    if (!(falling < 0.0)) return std::nullopt;
    hit.point = from + way * (glm::dot(mirror.centre_m - from, mirror.normal) / falling);
  } else {
    const Vec3 middle = mirror.centre_m + mirror.radius_m * mirror.normal;
    const double b = glm::dot(from - middle, way);
    const double c = glm::dot(from - middle, from - middle) - mirror.radius_m * mirror.radius_m;
    const double root = b * b - c;
    if (!(root > 0.0)) return std::nullopt;
    hit.point = from + way * (-b + std::sqrt(root));  // the far side is the hollow one
    hit.normal = base::unit(middle - hit.point);
  }
  const Vec3 off = hit.point - mirror.centre_m;
  const base::Mat3 axes = base::frame_of_normal(mirror.normal);
  const Vec2 flat{glm::dot(off, axes[0]), glm::dot(off, axes[1])};
  for (int side = 0; side < 3; ++side) {
    const base::SinCos turn = base::sincos_turns(side / 6.0);
    const double across = flat.x * turn.cos + flat.y * turn.sin;
    if (std::abs(across) > 0.5 * mirror.across_flats_m) return std::nullopt;
  }
  return hit;
}

/// (right, up) on the screen's plane; the way must go toward +z.
Vec2 on_screen(const LookBackScene& scene, const Vec3& from, const Vec3& way) {
  const Vec3 point = from + way * ((scene.screen_m.z - from.z) / way.z);
  return {-(point.x - scene.screen_m.x), point.y - scene.screen_m.y};
}

bool is_on_screen(const LookBackScene& scene, const Vec2& place) {
  return std::abs(place.x) < 0.5 * scene.screen_width_m &&
         std::abs(place.y) < 0.5 * scene.screen_height_m;
}

/// What one ray of the camera sees: light = mean + swing times the wave at `place`.
struct Sight {
  double still = 0.0;
  double swing = 0.0;
  Vec2 place{0.0, 0.0};
};

Sight sight_of(const LookBackScene& scene, const Vec3& way) {
  const double to_screen = (scene.screen_m.z - scene.camera_m.z) / way.z;
  // The screen's own back hides what is behind it.
  if (to_screen > 0.0 && is_on_screen(scene, on_screen(scene, scene.camera_m, way))) {
    return {0.01, 0.0, {}};
  }
  for (const DrawnMirror& mirror : scene.mirrors) {
    const Vec3 off = mirror.centre_m - scene.camera_m;
    if (glm::length(off - way * glm::dot(off, way)) > 0.6 * mirror.across_flats_m) continue;
    const auto hit = meet(mirror, scene.camera_m, way);
    if (!hit) continue;
    const Vec3 onward = base::reflect(way, hit->normal);
    const Vec2 place = on_screen(scene, hit->point, onward);
    if (!is_on_screen(scene, place)) {
      return {mirror.reflectance * scene.surroundings + scene.daylight, 0.0, {}};
    }
    const double full = mirror.reflectance * scene.screen_light;
    return {0.5 * full + scene.daylight, 0.45 * full, place};
  }
  return {scene.frame + scene.daylight, 0.0, {}};
}

double light_in(const LookBackScene& scene, const Sight& sight, int picture) {
  if (sight.swing == 0.0) return sight.still;
  const double share =
      picture < 4 ? sight.place.x / scene.screen_width_m : sight.place.y / scene.screen_height_m;
  const double turns = 0.75 * share + 0.25 * (picture % 4);
  return sight.still + sight.swing * base::sincos_turns(turns).cos;
}

double power(double x, double exponent) {
  return x > 1e-12 ? base::exp_of(exponent * base::log_positive(x)) : 0.0;
}

std::uint8_t code_of(const LookBackScene& scene, double light) {
  const double bent = power(std::clamp(light, 0.0, 1.0), scene.bend);
  const double code = bent <= 0.0031308 ? 12.92 * bent : 1.055 * power(bent, 1.0 / 2.4) - 0.055;
  return static_cast<std::uint8_t>(255.0 * code + 0.5);
}

std::vector<Sight> sights_of(const LookBackScene& scene) {
  const LookingCamera camera = looking(scene);
  std::vector<Sight> sights;
  const Vec2 middle{0.5 * scene.width, 0.5 * scene.height};
  for (int y = 0; y < scene.height * k_samples; ++y) {
    for (int x = 0; x < scene.width * k_samples; ++x) {
      const Vec2 off =
          (Vec2(x + 0.5, y + 0.5) / static_cast<double>(k_samples) - middle) / scene.focal_px;
      sights.push_back(
          sight_of(scene, base::unit(camera.forward + off.x * camera.right + off.y * camera.down)));
    }
  }
  return sights;
}

/// Light of one pixel before the lens' faults.
double pixel_light(const LookBackScene& scene, const std::vector<Sight>& sights, int x, int y,
                   int picture) {
  double light = 0.0;
  for (int k = 0; k < k_samples * k_samples; ++k) {
    const int row = y * k_samples + k / k_samples;
    const int column = x * k_samples + k % k_samples;
    light += light_in(
        scene,
        sights[static_cast<std::size_t>(row) * static_cast<std::size_t>(scene.width) * k_samples +
               static_cast<std::size_t>(column)],
        picture);
  }
  return light / (k_samples * k_samples);
}

}  // namespace

std::vector<std::vector<std::uint8_t>> render(const LookBackScene& scene) {
  const std::vector<Sight> sights = sights_of(scene);
  std::vector<std::vector<std::uint8_t>> photos;
  for (int picture = 0; picture < 8; ++picture) {
    std::vector<std::uint8_t> bytes;
    const auto number = static_cast<std::uint32_t>(picture);
    const double exposure = 1.0 + scene.flicker * seeded_even(scene.seed, number, 1u << 30u);
    for (int y = 0; y < scene.height; ++y) {
      for (int x = 0; x < scene.width; ++x) {
        const Vec2 off{(2.0 * x + 1.0) / scene.width - 1.0, (2.0 * y + 1.0) / scene.height - 1.0};
        const double lens = 1.0 - 0.5 * scene.vignette * glm::dot(off, off);
        const double light = exposure * lens * pixel_light(scene, sights, x, y, picture);
        const double sigma =
            std::sqrt(base::square(scene.noise) + base::square(scene.shot_noise) * light);
        const auto pixel = static_cast<std::uint32_t>(y * scene.width + x);
        bytes.push_back(
            code_of(scene, light + sigma * seeded_normal(scene.seed + 100u, pixel, number)));
      }
    }
    photos.push_back(std::move(bytes));
  }
  return photos;
}

std::vector<photo::Image> photographed(const LookBackScene& scene) {
  std::vector<photo::Image> images;
  for (const auto& bytes : render(scene)) {
    auto image = photo::image_of_bytes(
        scene.width, scene.height, 1,
        std::string_view(reinterpret_cast<const char*>(bytes.data()), bytes.size()), "photo");
    images.push_back(std::move(image).value());
  }
  return images;
}

Vec2 seen_at(const LookBackScene& scene, const Vec3& point_m) {
  const LookingCamera camera = looking(scene);
  const Vec3 off = point_m - scene.camera_m;
  const double depth = glm::dot(off, camera.forward);
  return {0.5 * scene.width + scene.focal_px * glm::dot(off, camera.right) / depth,
          0.5 * scene.height + scene.focal_px * glm::dot(off, camera.down) / depth};
}

Vec2 shown_by(const LookBackScene& scene, const DrawnMirror& mirror) {
  const Vec3 way = base::unit(mirror.centre_m - scene.camera_m);
  return on_screen(scene, mirror.centre_m, base::reflect(way, mirror.normal));
}

}  // namespace support
