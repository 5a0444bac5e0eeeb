// Weighs a mark's darkness against the plane of white around it.
#include "photo/mark_centre.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

namespace photo {
namespace {

using base::Vec2;
using base::Vec3;

constexpr double k_rim_from = 1.16;  ///< in radii of the mark; its white rim reaches to 1.5
constexpr double k_rim_to = 1.42;
constexpr double k_sigma_floor_px = 0.03;
constexpr double k_sigma_outline_px = 0.3;
constexpr int k_passes = 4;

struct PixelBox {
  int left = 0;
  int right = 0;
  int top = 0;
  int bottom = 0;
};

PixelBox box_of(const Image& image, const Candidate& candidate, double radii) {
  const double x = 2.0 * radii * std::sqrt(candidate.spread[0][0]);
  const double y = 2.0 * radii * std::sqrt(candidate.spread[1][1]);
  const auto inside = [](double value, int most) {
    return static_cast<int>(std::clamp(value, 0.0, static_cast<double>(most)));
  };
  return {inside(candidate.centre.x - x, image.width - 1),
          inside(candidate.centre.x + x, image.width - 1),
          inside(candidate.centre.y - y, image.height - 1),
          inside(candidate.centre.y + y, image.height - 1)};
}

/// Calls visit(offset from the middle, radii, light) for the pixels within so many radii.
template <class Visit>
void for_pixels(const Image& image, const Candidate& candidate, double radii, const Visit& visit) {
  const PixelBox box = box_of(image, candidate, radii);
  for (int y = box.top; y <= box.bottom; ++y) {
    for (int x = box.left; x <= box.right; ++x) {
      const Vec2 off = Vec2{x + 0.5, y + 0.5} - candidate.centre;
      const double distance = in_radii(candidate, off);
      if (distance <= radii) visit(off, distance, static_cast<double>(image.at(x, y)));
    }
  }
}

/// light ~ plane.(x, y, 1), and the relative scatter about it.
struct White {
  Vec3 plane{0.0, 0.0, 0.0};
  double scatter = 0.0;
};

std::optional<White> fit(const std::vector<Vec3>& rim, const White* first) {
  base::Mat3 normal(0.0);
  Vec3 right(0.0);
  int count = 0;
  const auto plane_at = [](const White& white, const Vec3& p) {
    return glm::dot(white.plane, Vec3(p.x, p.y, 1.0));
  };
  for (const Vec3& p : rim) {
    // The second time without what is far off: a spot's edge, a scratch.
    if (first != nullptr) {
      const double expected = plane_at(*first, p);
      if (std::abs(p.z - expected) > std::max(3.0 * first->scatter, 0.1) * expected) continue;
    }
    const Vec3 place(p.x, p.y, 1.0);
    normal += glm::outerProduct(place, place);
    right += p.z * place;
    ++count;
  }
  if (count < 12 || !(glm::determinant(normal) > 1e-6)) return std::nullopt;
  White white{glm::inverse(normal) * right, 0.0};
  if (!(white.plane.z > 0.0)) return std::nullopt;
  double sum = 0.0;
  int used = 0;
  for (const Vec3& p : rim) {
    const double expected = first != nullptr ? plane_at(*first, p) : 0.0;
    if (first != nullptr &&
        std::abs(p.z - expected) > std::max(3.0 * first->scatter, 0.1) * expected) {
      continue;
    }
    sum += base::square(p.z - plane_at(white, p));
    ++used;
  }
  white.scatter = std::sqrt(sum / used) / white.plane.z;
  return white;
}

std::optional<White> white_around(const Image& image, const Candidate& candidate) {
  std::vector<Vec3> rim;
  for_pixels(image, candidate, k_rim_to, [&](const Vec2& off, double radii, double light) {
    if (radii >= k_rim_from) rim.emplace_back(off, light);
  });
  const auto first = fit(rim, nullptr);
  return first ? fit(rim, &*first) : std::nullopt;
}

}  // namespace

MarkCentre centre_of(const Image& image, const Candidate& candidate) {
  const MarkCentre outline{candidate.centre, k_sigma_outline_px, false};
  Candidate moved = candidate;
  double sigma = k_sigma_outline_px;
  for (int pass = 0; pass < k_passes; ++pass) {
    const auto white = white_around(image, moved);
    if (!white) return outline;
    double darkness = 0.0;
    double second = 0.0;
    int pixels = 0;
    Vec2 first(0.0);
    for_pixels(image, moved, k_rim_from, [&](const Vec2& off, double, double light) {
      const double level = glm::dot(white->plane, Vec3(off, 1.0));
      const double dark = level > 0.0 ? std::clamp(1.0 - light / level, -0.3, 1.0) : 0.0;
      darkness += dark;
      first += dark * off;
      second += 0.5 * glm::dot(off, off);
      ++pixels;
    });
    // About half to two thirds of a mark is black.
    if (!(darkness > 0.2 * candidate.area && darkness < 1.0 * candidate.area)) return outline;
    moved.centre += first / darkness;
    sigma = std::sqrt(second) * white->scatter / darkness;
    if (in_radii(candidate, moved.centre - candidate.centre) > 0.25) return outline;
  }
  return {moved.centre, std::sqrt(sigma * sigma + k_sigma_floor_px * k_sigma_floor_px), true};
}

}  // namespace photo
