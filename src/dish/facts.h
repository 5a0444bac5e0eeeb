// Geometry of a whole dish that needs no rays: aperture, mirror area, rim, receiver, concentration.
#pragma once

#include <string>
#include <vector>

#include "base/vec.h"
#include "dish/dish.h"
#include "dish/polygon.h"

namespace dish {

/// The opening that the dish shows to the sun.
struct Aperture {
  Corners hull;               ///< around all facets, laid flat in z = 0, anticlockwise
  double area_m2 = 0.0;       ///< of the hull
  double rim_radius_m = 0.0;  ///< from the axis to the furthest point of a mirror, laid flat
};

/// Convex hull of all facets' outlines, each laid flat about its centre with its clocking, so that
/// the facets' own areas are what the cosine of the incidence is later taken from. Facets of types
/// that are not there count as points; empty without facets. Arcs are drawn with 96 points, which
/// makes the hull of discs alone too small by at most 0.07 %.
Aperture aperture_of(const Dish& dish);

/// Sum of the facets' outline areas.
double mirror_area_m2(const Dish& dish);

/// Corners of a facet's outline in the dish frame, in the plane of a facet that stands at its own
/// normal, or at the one that sends the sun to the focus. Sag is left out.
std::vector<base::Vec3> facet_corners(const Facet& facet, const Outline& outline,
                                      double focal_length_m, int arc_points = 96);

/// Closed forms of a whole paraboloid of aperture diameter D: the rim angle 2 atan(D / 4f) and the
/// focal ratio f / D. Source: Stine & Geyer, Power From The Sun, chapter 8; Duffie & Beckman,
/// Solar Engineering of Thermal Processes, chapter 7 (from memory).
double paraboloid_rim_angle_rad(double focal_length_m, double diameter_m);
double focal_ratio(double focal_length_m, double diameter_m);

/// Angle at the focus (0, 0, f) between the axis and the furthest corner of a mirror; beyond 90
/// degrees when the rim stands higher than the focus. On the paraboloid it differs from the closed
/// form by the sag of one facet only. Zero without facets.
double rim_angle_rad(const Dish& dish);

/// Facets of each type, in the order of the dish's types.
struct TypeCount {
  FacetTypeName type;
  std::size_t facets = 0;
};
std::vector<TypeCount> count_types(const Dish& dish);

double receiver_area_m2(const Receiver& receiver);

/// Aperture area over receiver area: what the concentration would be on the average if every ray
/// reached the receiver. Leaves out gaps, reflectance, shading and spillage.
double geometric_concentration(const Dish& dish);

/// Pose of a receiver or a board: x right and y up for someone who faces the lit side, z its lit
/// normal, origin its centre. The lit normal must have a length.
base::Pose board_pose(const Receiver& receiver);
base::Pose board_pose(const Board& board);

/// Where the spots of a round fall: its own board, or else the receiver.
base::Pose board_pose(const Round& round, const Receiver& receiver);

}  // namespace dish
