// A secondary mirror from what a person knows: any two of magnification, place of the receiver,
// place of the secondary, its radius at the vertex and its diameter give the rest.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "dish/edit.h"

namespace optics {

enum class MirrorForm { flat, hyperboloid, ellipsoid, sphere, paraboloid };

/// Heights are z in the dish frame. The classical names: separation of the mirrors = secondary_z,
/// back focal distance behind the primary's vertex = -receiver_z.
struct TwoMirrorWishes {
  MirrorForm form = MirrorForm::hyperboloid;
  bool is_beyond_focus = false;    ///< Gregorian place; an ellipsoid always, a hyperboloid never;
                                   ///< for spheres and paraboloids a choice
  double focal_length_m = 2.0;     ///< of the facets' parent
  double aperture_radius_m = 1.0;  ///< furthest mirror point from the axis
  std::optional<double> magnification;
  std::optional<double> receiver_z_m;
  std::optional<double> secondary_z_m;
  std::optional<double> radius_m;    ///< at the vertex; its size, above zero
  std::optional<double> diameter_m;  ///< solves when one other is known, else it is as given
  double hole_diameter_m = 0.0;
  double margin = 1.0;  ///< the diameter over what the rim's ray needs, when solved; 1 is exact
  double half_angle_rad = 0.00465;
};

struct TwoMirror {
  dish::Secondary secondary;  ///< form, vertex, diameter, hole; errors and reflectance as default
  double receiver_z_m = 0.0;
  double magnification = 1.0;
  double to_near_focus_m = 0.0;  ///< vertex to the facets' focus (p)
  double to_receiver_m = 0.0;    ///< vertex to receiver (q)
  double vertex_radius_m = 0.0;  ///< + bulges toward the facets, 0 flat
  double conic_constant = 0.0;   ///< -e^2 of the exact conic; 0 sphere, -1 paraboloid
  double eccentricity = 0.0;
  double height_ratio = 0.0;  ///< k: secondary over primary, on the axis: p / f
  double effective_focal_length_m = 0.0;
  double edge_radius_m = 0.0;  ///< where the rim's ray meets it, exactly
  double edge_z_m = 0.0;
  double rim_angle_rad = 0.0;           ///< phi, at the facets' focus
  double arriving_rim_angle_rad = 0.0;  ///< phi2, of that ray with the axis after the secondary
  double rim_miss_m = 0.0;              ///< how far from the receiver's middle that ray lands
  double shaded_share = 0.0;            ///< of the round aperture, by the secondary
  double caught_share = 1.0;  ///< of the facets' light that falls within its diameter and hole
  double sun_image_m = 0.0;   ///< 2 m f tan t
  std::vector<std::string> doubts;
};

/// Source: Cassegrain k = (f1 + b) / (f1 (m + 1)), R2 = 2 k f1 m / (m - 1), Gregory the same with
/// (m - 1) and (m + 1) (Rutten & van Venrooij, Telescope Optics, ch. 21); all follow from
/// m = q / p and 1/q = 1/p - 2/R. The edge is exact: 2pq / (q - p + (q + p) cos phi) from the focus
/// for the hyperboloid, traced for the other forms.
/// Problems: too few or too many knowns, each impossible place named: a secondary on the wrong side
/// of the focus, a receiver it cannot reach, one wider than the dish, a hole as wide as itself.
base::Result<TwoMirror> solve_two_mirror(const TwoMirrorWishes& wishes);

/// Puts the solved secondary into the dish: SetSecondary and SetReceiver (at its height, lit from
/// above); the secondary keeps the errors and reflectance of one that stands already.
std::vector<dish::Edit> edits_of(const dish::Dish& dish, const TwoMirror& solved);

/// Wishes that start from a dish: its focal length, aperture and sun.
TwoMirrorWishes wishes_for(const dish::Dish& dish, MirrorForm form);

}  // namespace optics
