// What the layouts share: how their options are judged and their facets placed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "dish/facet.h"
#include "dish/ranges.h"
#include "dish/recipes_frame.h"

namespace dish {

/// Adds a problem "layout, key: value; expected ..." when the value is out of range.
void judge(base::Problems& problems, ranges::Quantity quantity, double si);

/// The same for the frame's own numbers and the focal length.
void judge_frame(base::Problems& problems, const LayoutFrame& frame, double focal_length_m);

/// Centre of a facet at (x, y) on the frame; a problem when the frame does not reach there.
base::Result<base::Vec3> place_on(const LayoutFrame& frame, double focal_length_m,
                                  const base::Vec2& xy_m);

/// The facets, or the problem that there are none or too many.
base::Result<std::vector<Facet>> counted(std::vector<Facet> facets);

}  // namespace dish
