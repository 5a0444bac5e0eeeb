// Analytic scenes: dishes whose light is known in closed form, for every algorithm alike.
#pragma once

#include "dish/dish.h"
#include "optics/scene.h"
#include "optics/trace.h"

namespace light_scenes {

/// One perfect facet with an own normal; a receiver that casts no shadow.
dish::Dish one_facet(const dish::Outline& outline, const dish::Surface& surface,
                     const base::Vec3& centre, const base::Vec3& normal);

/// A whole paraboloid of f = 1 m to a rim angle, as one facet; receiver of a radius at the focus.
dish::Dish whole_paraboloid(double rim_angle_deg, double receiver_radius_m);

/// One facet at the origin whose normal leans by the incidence angle in the x, z plane, so that the
/// reflected light travels at twice the angle to a receiver that faces it at `distance_m`. On that
/// board "up" lies across the plane of incidence and "right" in it.
dish::Dish oblique_facet(const dish::Outline& outline, const dish::Surface& surface,
                         double incidence_deg, double distance_m);

/// The benchmark of 48 square facets (references/optics/concentrators.h).
dish::Dish faceted_dish(bool is_flat, double receiver_radius_m);

/// Hexagons of 0.24 m on a lattice of rings about an empty centre, focal length 2 m, spherical,
/// with errors, the receiver shading; on a dish or on a flat frame.
dish::Dish lattice(int rings, bool is_flat_frame);

/// The same with a hyperboloid secondary and a receiver near the vertex.
dish::Dish lattice_with_secondary(int rings);

void set_receiver_radius(dish::Dish& dish, double radius_m);

/// The scene of a dish without problems.
optics::Scene scene_of(const dish::Dish& dish, const optics::SceneOptions& options = {});

/// Traces and demands success.
optics::TraceResult traced(const dish::Dish& dish, const optics::TraceSettings& settings);

/// Share of what reaches the receiver's plane that lands within a radius.
double share_within(dish::Dish dish, double radius_m, std::uint64_t rays);

}  // namespace light_scenes
