// Which facet lies under the pointer.
#pragma once

#include <cstddef>
#include <optional>

#include "base/vec.h"
#include "optics/scene.h"

namespace yard {

struct Hit {
  std::size_t facet = 0;
  double distance_m = 0.0;
};

/// Nearest facet that a ray of the dish frame meets within its outline, front or back. The facet
/// counts as its tangent plane: a pointer is not finer than that.
std::optional<Hit> pick_facet(const optics::Scene& scene, const base::Vec3& from_dish,
                              const base::Vec3& direction_dish);

}  // namespace yard
