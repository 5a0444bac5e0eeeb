// A standing figure cut from paper, put together from tapered limbs that overlap.
#include <algorithm>
#include <array>
#include <cmath>

#include "base/units.h"
#include "page/yard/parts.h"

namespace yard {
namespace {

// A limb between two joints, (to the side, up) in metres from the middle and the ground, with the
// half breadth at each. A grown person of 1.75 m, drawn by eye.
struct Limb {
  base::Vec2 from;
  base::Vec2 to;
  double from_half;
  double to_half;
};
constexpr std::array<Limb, 10> k_half_figure{{
    {{0.085, 0.90}, {0.100, 0.50}, 0.085, 0.056},   // thigh
    {{0.100, 0.50}, {0.105, 0.08}, 0.058, 0.036},   // shin
    {{0.105, 0.03}, {0.150, 0.022}, 0.030, 0.022},  // foot
    {{0.060, 0.93}, {0.060, 1.12}, 0.105, 0.088},   // hip to waist
    {{0.060, 1.12}, {0.080, 1.34}, 0.088, 0.098},   // waist to chest
    {{0.020, 1.42}, {0.160, 1.375}, 0.055, 0.056},  // shoulder
    {{0.172, 1.37}, {0.215, 1.10}, 0.052, 0.040},   // upper arm
    {{0.215, 1.10}, {0.232, 0.86}, 0.040, 0.029},   // forearm
    {{0.232, 0.86}, {0.228, 0.78}, 0.033, 0.026},   // hand
    {{0.000, 1.40}, {0.000, 1.56}, 0.056, 0.050},   // neck
}};
constexpr base::Vec2 k_head{0.0, 1.628};
constexpr base::Vec2 k_head_half{0.080, 0.122};

class Figure {
 public:
  Figure(Solids& solids, const Ground& ground, double azimuth_rad)
      : solids_(solids),
        feet_(ground.person_world),
        across_(std::cos(azimuth_rad), std::sin(azimuth_rad), 0.0) {}

  void limb(const Limb& limb, double side) {
    const base::Vec2 along = limb.to - limb.from;
    const double lean = std::atan2(along.y, along.x);
    std::vector<base::Vec3> edge;
    cap(edge, limb.from, limb.from_half, lean + 0.5 * base::k_pi, side);
    cap(edge, limb.to, limb.to_half, lean - 0.5 * base::k_pi, side);
    add_polygon(solids_, edge, {0.0, 0.0, 0.0}, Ink::person);
  }
  void head() {
    std::vector<base::Vec3> round;
    constexpr int k_steps = 32;
    for (int i = 0; i < k_steps; ++i) {
      const double angle = 2.0 * base::k_pi * i / k_steps;
      round.push_back(point(k_head + k_head_half * base::Vec2(std::cos(angle), std::sin(angle))));
    }
    add_polygon(solids_, round, {0.0, 0.0, 0.0}, Ink::person);
  }

 private:
  // Half a circle about a joint, anticlockwise from an angle.
  void cap(std::vector<base::Vec3>& edge, const base::Vec2& joint, double half, double first,
           double side) {
    constexpr int k_steps = 10;
    for (int i = 0; i <= k_steps; ++i) {
      const double angle = first + base::k_pi * i / k_steps;
      const base::Vec2 place = joint + half * base::Vec2(std::cos(angle), std::sin(angle));
      edge.push_back(point({side * place.x, place.y}));
    }
  }
  [[nodiscard]] base::Vec3 point(const base::Vec2& place) const {
    return feet_ + place.x * across_ + base::Vec3(0.0, 0.0, std::max(place.y, 0.0));
  }

  Solids& solids_;
  base::Vec3 feet_;
  base::Vec3 across_;
};

}  // namespace

bool shows_person(const Camera& camera) { return std::abs(camera.elevation_rad) < 0.5; }

void add_person(Solids& solids, const Ground& ground, double azimuth_rad) {
  Figure figure(solids, ground, azimuth_rad);
  for (const Limb& limb : k_half_figure) {
    figure.limb(limb, 1.0);
    figure.limb(limb, -1.0);
  }
  figure.head();
}

}  // namespace yard
