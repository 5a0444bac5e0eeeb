// The parts of a new dish besides its layout, each from the wishes and what stands already.
#pragma once

#include "base/result.h"
#include "dish/dish.h"
#include "tasks/new_task.h"

namespace tasks {

/// Wishes about receiver and secondary that contradict each other.
base::Problems problems_of_parts(const NewRequest& request);

/// Surface and errors of the facets; name and outline are the layout's.
dish::FacetType facet_kind(const NewRequest& request, double focal_length_m);

/// The default mount with the wished screws, its circle within a facet `facet_m` wide.
dish::Mount mount_for(const NewRequest& request, double facet_m);

/// Needs the focal length.
void add_receiver(const NewRequest& request, dish::Dish& dish);

/// Needs facets, their types and the receiver. Does nothing when none is wished. Where only places
/// are known the usual ones fill up; a magnification, the radius of an exact conic or a place
/// beyond the focus is solved (optics/two_mirror.h), which may move the receiver. Problems: those
/// of that.
base::Problems add_secondary(const NewRequest& request, dish::Dish& dish);

}  // namespace tasks
