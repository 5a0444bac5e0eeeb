// The spot that one facet would give a point sun with another surface: what forms are fitted by.
#pragma once

#include <vector>

#include "optics/outline_points.h"
#include "optics/quadric.h"
#include "optics/scene.h"

namespace optics {

/// Stands for a spot that does not land; far above any real one, yet finite.
inline constexpr double k_lost_m2 = 1e12;

/// One facet of a scene, tried with any surface. The scene must outlive it.
class FormSpot {
 public:
  FormSpot(const Scene& scene, std::size_t facet, const base::Vec3& aim_dish);

  /// Mean square distance from the aim on the receiver's plane, weighted by the light caught; all
  /// mirrors perfect and endless. k_lost_m2 when any of it does not land.
  [[nodiscard]] double mean_square(const Quadric& surface) const;

 private:
  const Scene& scene_;
  const SceneFacet& facet_;
  std::vector<OutlinePoint> points_;
  base::Vec2 aim_{0.0, 0.0};
};

/// The curvature with the least mean square, and how fast it grows beside it.
struct CurvatureFit {
  double curvature_per_m = 0.0;
  double mean_square_m2 = 0.0;
  double stiffness_m4 = 0.0;  ///< second derivative of the mean square by the curvature
};
CurvatureFit fit_curvature(const FormSpot& spot, double conic_constant, double guess_per_m);

/// The dish with its screws at nominal.
dish::Dish at_nominal(const dish::Dish& dish);

}  // namespace optics
