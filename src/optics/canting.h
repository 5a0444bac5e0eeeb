// Which way each facet must face: the chief ray from the sun through the facet's centre reaches
// its aim point, directly or by way of the secondary.
#pragma once

#include <vector>

#include "adjusters/screws.h"
#include "base/result.h"
#include "base/vec.h"
#include "dish/dish.h"

namespace optics {

/// The facet's aim point on the receiver, in the dish frame.
base::Vec3 aim_point(const dish::Dish& dish, const dish::Facet& facet);

/// Unit direction that light must leave `centre` in to pass through `target`, directly or off the
/// secondary. Newton on the traced chief ray, at most 20 steps to 1e-12 m.
/// Problem: no such direction (the secondary cannot send light there).
base::Result<base::Vec3> direction_to_target(const dish::Dish& dish, const base::Vec3& centre,
                                             const base::Vec3& target);

/// Nominal pose of one facet: its own normal if the file gives one, else canted for a sun on axis.
base::Result<adjusters::FacePose> nominal_pose(const dish::Dish& dish, const dish::Facet& facet);

/// All facets, in the dish's order. Several problems are reported at once, each naming its facet.
base::Result<std::vector<adjusters::FacePose>> nominal_poses(const dish::Dish& dish);

/// Pose of one facet as built: nominal, moved by its adjusters' displacements.
base::Result<adjusters::FacePose> built_pose(const dish::Dish& dish, const dish::Facet& facet);

/// The same from a nominal pose that is already known.
base::Result<adjusters::FacePose> displaced(const dish::Dish& dish, const dish::Facet& facet,
                                            const adjusters::FacePose& nominal);

}  // namespace optics
