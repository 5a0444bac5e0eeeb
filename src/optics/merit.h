// Figures of merit that a dish can be judged by before and after light is traced: focal ratio, rim
// angle, image of the sun, and how much of the thermodynamic limit is used.
#pragma once

#include "base/result.h"
#include "dish/dish.h"
#include "optics/trace_result.h"

namespace optics {

/// Closed forms of concentrators under an even sun of half angle t. Sources: Winston, Minano &
/// Benitez, Nonimaging Optics; Duffie & Beckman, Solar Engineering of Thermal Processes, ch. 7;
/// Stine & Geyer, Power From The Sun, ch. 8. Angles in rad, within (0, pi/2).

/// 1 / sin t: the most any trough can do.
double limit_concentration_2d(double half_angle_rad);
/// 1 / sin^2 t: the most any dish can do, receiver in air.
double limit_concentration_3d(double half_angle_rad);
/// Paraboloid with a flat receiver that catches every edge ray, without its own shadow:
/// sin^2(phi) cos^2(phi + t) / sin^2(t); zero where phi + t reaches a quarter turn.
double flat_receiver_concentration(double rim_angle_rad, double half_angle_rad);
/// The rim angle at which that is greatest: pi/4 - t/2.
double best_flat_receiver_rim_rad(double half_angle_rad);
/// Paraboloid with a spherical receiver: sin^2(phi) / (4 sin^2(t)).
double ball_receiver_concentration(double rim_angle_rad, double half_angle_rad);
/// At the middle of the focus of a perfect paraboloid: sin^2(phi) / sin^2(t).
double focus_concentration(double rim_angle_rad, double half_angle_rad);
/// Receiver over aperture diameter that catches every edge ray: sin t / (sin(phi) cos(phi + t)).
double flat_receiver_diameter_ratio(double rim_angle_rad, double half_angle_rad);
/// With an ideal second stage of acceptance phi: cos^2(phi + t) / sin^2(t).
double two_stage_concentration(double rim_angle_rad, double half_angle_rad);

/// A compound parabolic concentrator of exit radius a and acceptance angle: entrance radius
/// a / sin, length (a + a / sin) cot, focal length of its parabola a (1 + sin), and its
/// concentration 1 / sin^2. Source: Winston & Welford; every relation is exact.
struct IdealCone {
  double concentration = 1.0;
  double entrance_radius_m = 0.0;
  double length_m = 0.0;
  double focal_length_m = 0.0;
};
IdealCone ideal_cone(double acceptance_rad, double exit_radius_m);

/// Figures of one dish; those from light need a trace of it.
struct Merit {
  double aperture_diameter_m = 0.0;       ///< twice the furthest mirror point from the axis
  double rim_angle_rad = 0.0;             ///< at the facets' focus
  double magnification = 1.0;             ///< of the secondary; 1 without one
  double effective_focal_length_m = 0.0;  ///< parent's times magnification
  double effective_focal_ratio = 0.0;     ///< that over the aperture's diameter
  double arriving_rim_angle_rad = 0.0;    ///< half angle of the light at the receiver's middle
  double sun_image_m = 0.0;               ///< 2 f tan t: its width on axis from a perfect dish
  double limit_concentration = 0.0;       ///< 1 / sin^2 t; 0 for a sun without size
  double geometric_concentration = 0.0;   ///< gross aperture over receiver
  double mean_concentration = 0.0;        ///< receiver watts over its area and DNI
  double peak_concentration = 0.0;
  double etendue_use = 0.0;       ///< mean concentration over the limit, 0..1
  double peak_etendue_use = 0.0;  ///< the same of the peak
};

/// Problems: those of a degenerate secondary. `traced` may be all zero when nothing is traced yet.
base::Result<Merit> merit_of(const dish::Dish& dish, const TraceResult& traced);

/// Of any secondary on its axis, near and far distances from its vertex: q / p with the mirror
/// equation 1/q = 1/p - 2/R (R positive when it bulges toward the facets). Zero when it sends the
/// light of the facets' focus out parallel or apart.
double magnification_of(const dish::Secondary& secondary, double focal_length_m);

}  // namespace optics
