#include "support/photo_scene.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"
#include "base/hash.h"
#include "base/units.h"

namespace support {
namespace {

using base::Vec2;
using base::Vec3;

struct Camera {
  Vec3 forward;
  Vec3 right;
  Vec3 down;
};

Camera camera_of(const PhotoScene& scene) {
  const Vec3 forward = base::unit(scene.looks_at_m - scene.camera_m);
  const Vec3 right = base::unit(glm::cross(forward, scene.up));
  return {forward, right, glm::cross(forward, right)};
}

/// Before the lens, by repeating x = seen / (1 + k1 |x|^2).
Vec2 straight(const Vec2& seen, double k1) {
  Vec2 x = seen;
  for (int k = 0; k < 30; ++k) x = seen / (1.0 + k1 * glm::dot(x, x));
  return x;
}

/// Share of a disc's inside at a distance beyond its rim that falls off over a width.
double within(double beyond, double width) {
  return std::clamp(0.5 - beyond / std::max(width, 1e-12), 0.0, 1.0);
}

double ink_at(const PhotoScene& scene, const Vec2& place, double sample_m) {
  const auto marks = photo::marks_of(scene.board);
  for (std::size_t k = 0; k < marks.size(); ++k) {
    if (k < scene.hidden_marks.size() && scene.hidden_marks[k]) continue;
    const double r = glm::distance(place, marks[k].place_m);
    if (r > 0.5 * scene.board.mark_m + sample_m) continue;
    double ink = 0.0;
    double sign = 1.0;
    for (const double share : photo::circles_of(marks[k].kind)) {
      ink += sign * within(r - 0.5 * scene.board.mark_m * share, sample_m);
      sign = -sign;
    }
    return ink;
  }
  return 0.0;
}

struct Clutter {
  Vec2 middle{0.0, 0.0};
  double size = 0.0;
  std::uint32_t kind = 0;
};

/// Things that are no marks: dark discs, rings off centre, squares within squares, thin rings.
std::vector<Clutter> clutter_of(const PhotoScene& scene) {
  std::vector<Clutter> list;
  const auto marks = photo::marks_of(scene.board);
  for (std::uint32_t k = 0; scene.clutter && k < 40; ++k) {
    const double reach = 1.4 * scene.board.width_m;
    const Vec2 middle{reach * seeded_even(7, k, 0), reach * seeded_even(7, k, 1)};
    const bool on_mark = std::any_of(marks.begin(), marks.end(), [&](const photo::BoardMark& m) {
      return glm::distance(m.place_m, middle) < 1.6 * scene.board.mark_m;
    });
    if (on_mark) continue;
    list.push_back({middle, scene.board.mark_m * (0.35 + 0.15 * seeded_even(7, k, 2)), k % 4});
  }
  return list;
}

double clutter_at(const std::vector<Clutter>& list, const Vec2& place) {
  for (const Clutter& one : list) {
    const Vec2 off = place - one.middle;
    const double box = std::max(std::abs(off.x), std::abs(off.y));
    if (box >= one.size) continue;
    const double r = glm::length(off) / one.size;
    const double bite = glm::distance(off, {0.3 * one.size, 0.0}) / one.size;
    const bool dark[] = {r<1.0, r<1.0 && bite> 0.5, box> 0.5 * one.size, r < 1.0 && r > 0.6};
    if (dark[one.kind]) return 1.0;
  }
  return 0.0;
}

double spot_light(const DrawnSpot& spot, const Vec2& place) {
  Vec2 off = place - spot.place_m;
  if (spot.stretch != 1.0) {
    const base::SinCos t = base::sincos_turns(spot.turn_rad / (2.0 * base::k_pi));
    off = {(t.cos * off.x + t.sin * off.y) / spot.stretch, t.cos * off.y - t.sin * off.x};
  }
  const double rr = glm::dot(off, off);
  if (rr > base::square(2.5 * spot.diameter_m)) return 0.0;
  if (spot.is_gaussian) {
    return spot.level * base::exp_of(-8.0 * rr / base::square(spot.diameter_m));
  }
  return spot.level * within(std::sqrt(rr) - 0.5 * spot.diameter_m, spot.edge_m);
}

double light_at(const PhotoScene& scene, const std::vector<Clutter>& clutter, const Vec2& place,
                double sample_m) {
  const double over = std::max(std::abs(place.x) - 0.5 * scene.board.width_m,
                               std::abs(place.y) - 0.5 * scene.board.height_m);
  const double board = within(over, sample_m);
  double white = scene.white * (1.0 + glm::dot(scene.gradient_per_m, place));
  double ink = 0.0;
  if (scene.has_marks && board > 0.0) ink = ink_at(scene, place, sample_m);
  ink = std::max(ink, clutter_at(clutter, place));
  double spots = 0.0;
  for (const DrawnSpot& spot : scene.spots) spots += spot_light(spot, place);
  const double paper = 1.0 - ink * (1.0 - scene.ink);
  return board * (white + spots) * paper + (1.0 - board) * scene.behind * paper;
}

void blur(std::vector<float>& light, int width, int height, double sigma) {
  if (sigma <= 0.0) return;
  const int reach = static_cast<int>(std::ceil(3.5 * sigma));
  std::vector<float> kernel;
  float total = 0.0f;
  for (int k = -reach; k <= reach; ++k) {
    kernel.push_back(static_cast<float>(base::exp_of(-0.5 * k * k / (sigma * sigma))));
    total += kernel.back();
  }
  const auto pass = [&](int count, int lines, int step, int stride) {
    std::vector<float> line(static_cast<std::size_t>(count));
    for (int at = 0; at < lines; ++at) {
      float* values = light.data() + static_cast<std::ptrdiff_t>(at) * stride;
      for (int k = 0; k < count; ++k) line[static_cast<std::size_t>(k)] = values[k * step];
      for (int k = 0; k < count; ++k) {
        float sum = 0.0f;
        for (int j = -reach; j <= reach; ++j) {
          sum += kernel[static_cast<std::size_t>(j + reach)] *
                 line[static_cast<std::size_t>(std::clamp(k + j, 0, count - 1))];
        }
        values[k * step] = sum / total;
      }
    }
  };
  pass(width, height, 1, width);
  pass(height, width, width, 1);
}

std::uint8_t srgb_of(double light) {
  const auto& table = photo::linear_of_srgb();
  const double value = std::clamp(light, 0.0, 1.0) * photo::k_full_scale;
  const auto above = std::lower_bound(table.begin(), table.end(), value);
  if (above == table.begin()) return 0;
  const auto code = above - table.begin();
  const double low = table[static_cast<std::size_t>(code - 1)];
  return static_cast<std::uint8_t>(value - low < *above - value ? code - 1 : code);
}

}  // namespace

double seeded_even(std::uint32_t seed, std::uint32_t a, std::uint32_t b) {
  return 2.0 * base::open_unit(base::hash4({a, b, seed, 17})[0]) - 1.0;
}

double seeded_normal(std::uint32_t seed, std::uint32_t a, std::uint32_t b) {
  return base::inverse_normal(base::open_unit(base::hash4({a, b, seed, 29})[1]));
}

Vec2 seen_at(const PhotoScene& scene, const Vec2& board_m) {
  const Camera camera = camera_of(scene);
  const Vec3 way = Vec3(board_m, 0.0) - scene.camera_m;
  const Vec2 x =
      Vec2{glm::dot(way, camera.right), glm::dot(way, camera.down)} / glm::dot(way, camera.forward);
  Vec2 seen = scene.focal_px * x * (1.0 + scene.k1 * glm::dot(x, x));
  if (scene.mirrored) seen.x = -seen.x;
  return seen + Vec2{0.5 * scene.width, 0.5 * scene.height};
}

std::vector<std::uint8_t> render(const PhotoScene& scene) {
  const Camera camera = camera_of(scene);
  const double sample_m =
      1.1 * glm::distance(scene.camera_m, scene.looks_at_m) / (scene.focal_px * scene.samples);
  const std::vector<Clutter> clutter = clutter_of(scene);
  std::vector<float> light(static_cast<std::size_t>(scene.width) *
                           static_cast<std::size_t>(scene.height));
  for (int y = 0; y < scene.height; ++y) {
    for (int x = 0; x < scene.width; ++x) {
      double sum = 0.0;
      Vec2 u(0.0);
      for (int s = 0; s < scene.samples * scene.samples; ++s) {
        const double px = x + (s % scene.samples + 0.5) / scene.samples;
        const double py = y + (s / scene.samples + 0.5) / scene.samples;
        u = Vec2{px - 0.5 * scene.width, py - 0.5 * scene.height} / scene.focal_px;
        if (scene.mirrored) u.x = -u.x;
        const Vec2 straightened = scene.k1 != 0.0 ? straight(u, scene.k1) : u;
        const Vec3 way =
            camera.forward + straightened.x * camera.right + straightened.y * camera.down;
        const double reach = -scene.camera_m.z / way.z;
        const Vec3 place = scene.camera_m + reach * way;
        sum += reach > 0.0 ? light_at(scene, clutter, {place.x, place.y}, sample_m) : scene.behind;
      }
      const double fade = 1.0 - scene.vignette * std::min(glm::dot(u, u), 1.0);
      light[static_cast<std::size_t>(y) * static_cast<std::size_t>(scene.width) +
            static_cast<std::size_t>(x)] =
          static_cast<float>(scene.exposure * fade * sum / (scene.samples * scene.samples));
    }
  }
  blur(light, scene.width, scene.height, scene.blur_px);
  std::vector<std::uint8_t> bytes(light.size());
  for (std::size_t k = 0; k < light.size(); ++k) {
    const double clean = light[k];
    const double sigma = std::sqrt(base::square(scene.noise) +
                                   base::square(scene.shot_noise) * std::max(clean, 0.0));
    const double noisy =
        sigma > 0.0 ? clean + sigma * seeded_normal(scene.seed, static_cast<std::uint32_t>(k), 3)
                    : clean;
    bytes[k] = srgb_of(noisy);
  }
  return bytes;
}

photo::Image photographed(const PhotoScene& scene) {
  const auto bytes = render(scene);
  auto image = photo::image_of_bytes(scene.width, scene.height, 1,
                                     {reinterpret_cast<const char*>(bytes.data()), bytes.size()},
                                     "rendered");
  BASE_CHECK(image.ok(), "a rendered picture is an image");
  return std::move(image).value();
}

std::vector<DrawnSpot> ring_spots(double pitch_m, double stray_m, std::uint32_t seed,
                                  const DrawnSpot& like) {
  std::vector<DrawnSpot> spots;
  for (int q = -3; q <= 3; ++q) {
    for (int r = -3; r <= 3; ++r) {
      if (std::abs(q + r) > 3 || (q == 0 && r == 0)) continue;
      const auto k = static_cast<std::uint32_t>(spots.size());
      DrawnSpot spot = like;
      spot.place_m = {pitch_m * (q + 0.5 * r) + stray_m * seeded_even(seed, k, 0),
                      pitch_m * 0.8660254037844386 * r + stray_m * seeded_even(seed, k, 1)};
      spots.push_back(spot);
    }
  }
  return spots;
}

}  // namespace support
