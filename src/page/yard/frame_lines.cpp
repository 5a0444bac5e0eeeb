// Two rings and six spokes, sized by how far out the facets lie on average.
#include "page/yard/frame_lines.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/units.h"

namespace yard {
namespace {

constexpr double k_behind = 0.035;     // of the reach
constexpr double k_inner_ring = 0.50;  // of the facets' rms distance from the axis
constexpr double k_outer_ring = 1.12;
constexpr double k_spoke = 1.20;
constexpr int k_ring_pieces = 72;
constexpr int k_spoke_pieces = 6;
constexpr int k_spokes = 6;

class Frame {
 public:
  Frame(Ribbons& ribbons, const optics::Scene& scene, double focal_length_m, const Ground& ground,
        const Palette& palette)
      : ribbons_(ribbons), focal_m_(focal_length_m), ground_(ground), palette_(palette) {
    double sum = 0.0;
    double lowest = 0.0;
    for (const optics::SceneFacet& facet : scene.facets) {
      const base::Vec3& centre = facet.dish_from_facet.origin;
      const double radius = glm::length(base::Vec2(centre));
      sum += radius * radius;
      lowest = std::min(lowest, centre.z - sag(radius));
    }
    rms_m_ = std::sqrt(sum / std::max<double>(1.0, static_cast<double>(scene.facets.size())));
    shift_m_ = lowest - k_behind * ground.reach_m;
  }

  [[nodiscard]] double radius(double of_rms) const { return of_rms * rms_m_; }
  [[nodiscard]] double height(double radius_m) const { return sag(radius_m) + shift_m_; }

  void ring(double radius_m) {
    for (int i = 0; i < k_ring_pieces; ++i) {
      line(on_frame(radius_m, 2.0 * base::k_pi * i / k_ring_pieces),
           on_frame(radius_m, 2.0 * base::k_pi * (i + 1) / k_ring_pieces));
    }
  }
  void spoke(double angle) {
    const double step = radius(k_spoke) / k_spoke_pieces;
    for (int i = 0; i < k_spoke_pieces; ++i) {
      line(on_frame(step * i, angle), on_frame(step * (i + 1), angle));
    }
  }
  void join(const base::Vec3& end_dish) {
    line(end_dish, on_frame(radius(k_outer_ring), std::atan2(end_dish.y, end_dish.x)));
  }

 private:
  [[nodiscard]] double sag(double radius_m) const {
    return focal_m_ > 0.0 ? radius_m * radius_m / (4.0 * focal_m_) : 0.0;
  }
  [[nodiscard]] base::Vec3 on_frame(double radius_m, double angle) const {
    return {radius_m * std::cos(angle), radius_m * std::sin(angle), height(radius_m)};
  }
  void line(const base::Vec3& from_dish, const base::Vec3& to_dish) {
    const base::Pose& world = ground_.world_from_dish;
    ribbons_.push_back({glm::vec3(base::point_to_outer(world, from_dish)),
                        glm::vec3(base::point_to_outer(world, to_dish)), palette_.structure_line,
                        palette_.structure_line, 1.4f});
  }

  Ribbons& ribbons_;
  double focal_m_;
  const Ground& ground_;
  const Palette& palette_;
  double rms_m_ = 0.0;
  double shift_m_ = 0.0;
};

}  // namespace

void add_frame_lines(Ribbons& ribbons, const optics::Scene& scene, double focal_length_m,
                     const std::vector<base::Vec3>& struts_dish, const Ground& ground,
                     const Palette& palette) {
  Frame frame(ribbons, scene, focal_length_m, ground, palette);
  frame.ring(frame.radius(k_inner_ring));
  frame.ring(frame.radius(k_outer_ring));
  for (int i = 0; i < k_spokes; ++i) frame.spoke(base::k_pi * (2.0 * i + 1.0) / k_spokes);
  for (const base::Vec3& end : struts_dish) {
    const double radius_m = glm::length(base::Vec2(end));
    const bool at_rim = radius_m > frame.radius(k_outer_ring) &&
                        end.z < frame.height(radius_m) + 0.35 * ground.reach_m;
    if (at_rim) frame.join(end);
  }
}

}  // namespace yard
