// Rays are followed by the core; only the way in from the sun is cut short.
#include "page/yard/ribbons.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/units.h"
#include "optics/picture_rays.h"

namespace yard {
namespace {

constexpr std::size_t k_most_rays = 1400;
constexpr double k_rays_at_full_ink = 60.0;

struct RayInks {
  glm::vec4 in;
  glm::vec4 out;
  float width;
};

void add_path(Ribbons& ribbons, const std::vector<base::Vec3>& path_dish, const Ground& ground,
              const RayInks& inks) {
  if (path_dish.size() < 2) return;
  const auto world = [&](const base::Vec3& point) {
    return base::point_to_outer(ground.world_from_dish, point);
  };
  // The sun's side starts beyond the receiver and fades in.
  const base::Vec3 facet = path_dish[1];
  const base::Vec3 to_sun = base::unit(path_dish[0] - facet);
  const base::Vec3 start = facet + 1.25 * ground.reach_m * to_sun;
  ribbons.push_back({glm::vec3(world(start)), glm::vec3(world(facet)),
                     glm::vec4(glm::vec3(inks.in), 0.0f), inks.in, inks.width});
  for (std::size_t i = 2; i < path_dish.size(); ++i) {
    ribbons.push_back({glm::vec3(world(path_dish[i - 1])), glm::vec3(world(path_dish[i])), inks.out,
                       inks.out, inks.width});
  }
}

}  // namespace

void add_rays(Ribbons& ribbons, const optics::Scene& scene, int each, const Ground& ground,
              const Palette& palette) {
  if (each <= 0) return;
  const std::size_t facets = scene.facets.size();
  const auto wanted = static_cast<std::size_t>(each);
  const std::size_t stride = 1 + facets * wanted / k_most_rays;
  const double shown = static_cast<double>(facets * wanted) / static_cast<double>(stride);
  const auto ink = static_cast<float>(std::min(1.0, std::sqrt(k_rays_at_full_ink / (shown + 1.0))));
  const glm::vec4 thin{1.0f, 1.0f, 1.0f, ink};
  for (std::size_t i = 0; i < facets; i += stride) {
    for (const optics::PictureRay& ray : optics::picture_rays(scene, i, each)) {
      add_path(ribbons, ray.points, ground, {thin * palette.ray_in, thin * palette.ray_out, 1.0f});
    }
  }
}

void add_lit_rays(Ribbons& ribbons, const optics::Scene& scene, std::size_t facet, int each,
                  const Ground& ground, const Palette& palette) {
  const float width = each > 1 ? 1.3f : 1.8f;
  for (const optics::PictureRay& ray : optics::picture_rays(scene, facet, std::max(each, 1))) {
    add_path(ribbons, ray.points, ground, {palette.ray_lit, palette.ray_lit, width});
  }
}

SunPlace sun_place(const optics::Scene& scene, const Ground& ground) {
  // Beside the dish, where the picture is empty; how far away it is means nothing.
  const base::Vec3 beside = ground.reach_m * base::Vec3(0.80, 1.02, 0.0);
  const base::Vec3 disc = beside + 1.15 * ground.reach_m * scene.sun;
  return {base::point_to_outer(ground.world_from_dish, disc),
          base::direction_to_outer(ground.world_from_dish, scene.sun), 0.075 * ground.reach_m};
}

bool shows_sun(const SunPlace& sun, const Camera& camera) {
  return std::abs(glm::dot(sun.toward_world, eye_of(camera).back)) < 0.85;
}

void add_sun_lines(Ribbons& ribbons, const SunPlace& sun, const Ground& ground,
                   const Camera& camera, const Palette& palette) {
  if (!shows_sun(sun, camera)) return;
  const double reach = ground.reach_m;
  const base::Vec3 start = sun.disc_world - 1.6 * sun.radius_m * sun.toward_world;
  const base::Vec3 tip = sun.disc_world - 0.55 * reach * sun.toward_world;
  const base::Vec3 side =
      base::unit(glm::cross(sun.toward_world, base::Vec3(1.0, 0.0, 0.0))) * (0.03 * reach);
  const glm::vec4 faint(glm::vec3(palette.sun_line), 0.0f);
  ribbons.push_back({glm::vec3(start), glm::vec3(tip), faint, palette.sun_line, 1.6f});
  for (const double sign : {-1.0, 1.0}) {
    const base::Vec3 barb = tip + 0.075 * reach * sun.toward_world + sign * side;
    ribbons.push_back({glm::vec3(tip), glm::vec3(barb), palette.sun_line, palette.sun_line, 1.6f});
  }
}

}  // namespace yard
