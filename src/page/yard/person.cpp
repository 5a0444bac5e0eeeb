// A standing figure cut from paper: half an outline, mirrored, in strips from the feet up.
#include <array>
#include <cmath>

#include "base/units.h"
#include "page/yard/parts.h"

namespace yard {
namespace {

// Heights and half breadths of a grown person of 1.75 m, in metres from the ground and from the
// middle; the legs part below the hip. Drawn by eye.
struct Slice {
  double height;
  double inner;
  double outer;
};
constexpr std::array<Slice, 7> k_leg{{{0.00, 0.035, 0.145},
                                      {0.05, 0.040, 0.120},
                                      {0.28, 0.035, 0.125},
                                      {0.48, 0.030, 0.120},
                                      {0.62, 0.022, 0.140},
                                      {0.80, 0.008, 0.165},
                                      {0.88, 0.000, 0.172}}};
constexpr std::array<Slice, 7> k_trunk{{{0.88, 0.0, 0.172},
                                        {0.98, 0.0, 0.160},
                                        {1.10, 0.0, 0.148},
                                        {1.28, 0.0, 0.172},
                                        {1.40, 0.0, 0.190},
                                        {1.455, 0.0, 0.120},
                                        {1.50, 0.0, 0.058}}};
constexpr std::array<Slice, 7> k_arm{{{0.70, 0.222, 0.262},
                                      {0.76, 0.205, 0.268},
                                      {0.86, 0.205, 0.262},
                                      {1.06, 0.190, 0.258},
                                      {1.24, 0.178, 0.252},
                                      {1.37, 0.170, 0.240},
                                      {1.425, 0.150, 0.205}}};
constexpr double k_head_height = 1.625;
constexpr double k_head_half_height = 0.125;
constexpr double k_head_half_width = 0.088;

class Figure {
 public:
  Figure(Solids& solids, const Ground& ground, double azimuth_rad)
      : solids_(solids),
        feet_(ground.person_world),
        across_(std::cos(azimuth_rad), std::sin(azimuth_rad), 0.0) {}

  void strip(const Slice& low, const Slice& high) {
    for (const double side : {-1.0, 1.0}) {
      add_polygon(solids_,
                  {point(side * low.inner, low.height), point(side * low.outer, low.height),
                   point(side * high.outer, high.height), point(side * high.inner, high.height)},
                  {0.0, 0.0, 0.0}, Ink::person);
    }
  }
  void strips(const std::array<Slice, 7>& slices) {
    for (std::size_t i = 1; i < slices.size(); ++i) strip(slices[i - 1], slices[i]);
  }
  void head() {
    std::vector<base::Vec3> round;
    for (int i = 0; i < 24; ++i) {
      const double angle = 2.0 * base::k_pi * i / 24;
      round.push_back(point(k_head_half_width * std::cos(angle),
                            k_head_height + k_head_half_height * std::sin(angle)));
    }
    add_polygon(solids_, round, {0.0, 0.0, 0.0}, Ink::person);
  }

 private:
  [[nodiscard]] base::Vec3 point(double across, double height) const {
    return feet_ + across * across_ + base::Vec3(0.0, 0.0, height);
  }

  Solids& solids_;
  base::Vec3 feet_;
  base::Vec3 across_;
};

}  // namespace

void add_person(Solids& solids, const Ground& ground, double azimuth_rad) {
  Figure figure(solids, ground, azimuth_rad);
  figure.strips(k_leg);
  figure.strips(k_trunk);
  figure.strips(k_arm);
  figure.strip({1.48, 0.0, 0.052}, {1.56, 0.0, 0.050});
  figure.head();
}

}  // namespace yard
