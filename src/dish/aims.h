// Patterns of aims: where on the receiver each facet sends its light, so that the flux is not all
// in one place.
#pragma once

#include <variant>
#include <vector>

#include "base/vec.h"
#include "dish/dish.h"

namespace dish {

/// Every facet at one point, (right, up) from the receiver's centre.
struct SingleAim {
  base::Vec2 aim_m{0.0, 0.0};
};
/// Spread evenly over a disc, p_k = R sqrt((k + 1/2) / N) at k golden angles.
/// Source: Vogel, "A better way to construct the sunflower head", Mathematical Biosciences 44
/// (1979) 179. Inner facets get inner points, and facets of one radius go around like their
/// points, so that a spot out of place is easy to trace.
struct DiscAims {
  double radius_m = 0.0;
};
/// A small copy of the dish: R (x, y) / (greatest distance from the axis). The same as canting for
/// a slightly other focal length.
struct ScaledAims {
  double radius_m = 0.0;
};
using AimPattern = std::variant<SingleAim, DiscAims, ScaledAims>;

/// Each facet's aim, (right, up) on the receiver, in the dish's order. Patterns are laid out along
/// the dish's own x and y as the receiver's plane shows them.
std::vector<base::Vec2> aims_of(const Dish& dish, const AimPattern& pattern);

/// Peak flux of many round Gaussian spots (`sigma_m` per axis) spread evenly over a disc, against
/// all on one point: 2 (s/R)^2 (1 - exp(-R^2 / 2 s^2)). Source: derived, many facets. sigma > 0.
double peak_ratio(double radius_m, double sigma_m);

/// Largest disc of aims that a round receiver takes without losing much: its radius less 2.5 sigma,
/// never below zero. Source: derived (99.6 % of the light at a disc of 1.5 sigma).
double most_aim_radius_m(double receiver_radius_m, double sigma_m);

}  // namespace dish
