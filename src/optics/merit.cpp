// Closed forms first, then the figures of one dish.
#include "optics/merit.h"

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/units.h"
#include "dish/facts.h"
#include "optics/secondary_mirror.h"

namespace optics {
namespace {

/// Signed curvature at the vertex, + bulges toward the facets.
double bulge_per_m(const SecondaryMirror& mirror) {
  return mirror.is_flat ? 0.0 : -mirror.surface.uu;
}

}  // namespace

double limit_concentration_2d(double half_angle_rad) { return 1.0 / std::sin(half_angle_rad); }

double limit_concentration_3d(double half_angle_rad) {
  return 1.0 / base::square(std::sin(half_angle_rad));
}

double flat_receiver_concentration(double rim_angle_rad, double half_angle_rad) {
  const double leaning = std::cos(rim_angle_rad + half_angle_rad);
  if (leaning <= 0.0) return 0.0;
  return base::square(std::sin(rim_angle_rad) * leaning / std::sin(half_angle_rad));
}

double best_flat_receiver_rim_rad(double half_angle_rad) {
  return 0.25 * base::k_pi - 0.5 * half_angle_rad;
}

double ball_receiver_concentration(double rim_angle_rad, double half_angle_rad) {
  return base::square(std::sin(rim_angle_rad) / (2.0 * std::sin(half_angle_rad)));
}

double focus_concentration(double rim_angle_rad, double half_angle_rad) {
  return base::square(std::sin(rim_angle_rad) / std::sin(half_angle_rad));
}

double flat_receiver_diameter_ratio(double rim_angle_rad, double half_angle_rad) {
  return std::sin(half_angle_rad) /
         (std::sin(rim_angle_rad) * std::cos(rim_angle_rad + half_angle_rad));
}

double two_stage_concentration(double rim_angle_rad, double half_angle_rad) {
  return base::square(std::cos(rim_angle_rad + half_angle_rad) / std::sin(half_angle_rad));
}

IdealCone ideal_cone(double acceptance_rad, double exit_radius_m) {
  BASE_CHECK(acceptance_rad > 0.0 && acceptance_rad < 0.5 * base::k_pi,
             "a cone accepts more than nothing and less than everything");
  const double s = std::sin(acceptance_rad);
  const double entrance = exit_radius_m / s;
  return {1.0 / base::square(s), entrance, (exit_radius_m + entrance) / std::tan(acceptance_rad),
          exit_radius_m * (1.0 + s)};
}

double magnification_of(const dish::Secondary& secondary, double focal_length_m) {
  const auto mirror = secondary_mirror(secondary);
  if (!mirror) return 0.0;
  const double p = focal_length_m - secondary.vertex_m.z;  // before the focus positive
  if (p == 0.0) return 0.0;
  // 1/q = 1/p - 2/R; beyond the focus p is negative, and q stays positive for a hollow mirror.
  const double inverse = 1.0 / p - 2.0 * bulge_per_m(mirror.value());
  return inverse > 1e-12 ? std::abs(1.0 / (inverse * p)) : 0.0;
}

base::Result<Merit> merit_of(const dish::Dish& dish, const TraceResult& traced) {
  Merit merit;
  merit.aperture_diameter_m = 2.0 * dish::aperture_of(dish).rim_radius_m;
  merit.rim_angle_rad = dish::rim_angle_rad(dish);
  merit.arriving_rim_angle_rad = merit.rim_angle_rad;
  if (dish.secondary) {
    const auto mirror = secondary_mirror(*dish.secondary);
    if (!mirror) return mirror.problems();
    merit.magnification = magnification_of(*dish.secondary, dish.focal_length_m);
    // Half-angle law of confocal conics, exact for them: Hannan, IRE Trans. AP-9 (1961) 140.
    merit.arriving_rim_angle_rad =
        merit.magnification > 0.0
            ? 2.0 * std::atan(std::tan(0.5 * merit.rim_angle_rad) / merit.magnification)
            : 0.0;
  }
  merit.effective_focal_length_m = dish.focal_length_m * merit.magnification;
  if (merit.aperture_diameter_m > 0.0) {
    merit.effective_focal_ratio = merit.effective_focal_length_m / merit.aperture_diameter_m;
  }
  const double half_angle = dish.sun.half_angle_rad;
  merit.sun_image_m = 2.0 * merit.effective_focal_length_m * std::tan(half_angle);
  merit.geometric_concentration = dish::geometric_concentration(dish);
  merit.mean_concentration = traced.mean_concentration;
  merit.peak_concentration = traced.peak_concentration;
  // A Gaussian sun has no edge, and so no limit that could be told from its half angle.
  if (half_angle > 0.0 && !std::holds_alternative<dish::GaussianSun>(dish.sun.shape)) {
    merit.limit_concentration = limit_concentration_3d(half_angle);
    merit.etendue_use = merit.mean_concentration / merit.limit_concentration;
    merit.peak_etendue_use = merit.peak_concentration / merit.limit_concentration;
  }
  return merit;
}

}  // namespace optics
