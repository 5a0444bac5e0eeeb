// The four places a person would walk to, each fitted so that the dish fills the picture.
#pragma once

#include <array>
#include <vector>

#include "page/yard/camera.h"
#include "page/yard/ground.h"

namespace yard {

enum class NamedView { three_quarter, from_sun, from_behind, from_side };

struct ViewChoice {
  NamedView view;
  const char* label;
  const char* hint;
};

/// In the order they are offered; key 1 to 4 chooses them.
const std::array<ViewChoice, 4>& view_choices();

/// A free part of the picture, in pixels from each of its edges, that the dish must stay clear of.
struct Margins {
  double left = 0.0;
  double right = 0.0;
  double top = 0.0;
  double bottom = 0.0;
};

/// What must be seen: facets' edges, receiver, secondary, ends of struts, and where it helps sun
/// and person.
std::vector<base::Vec3> points_to_show(const optics::Scene& scene,
                                       const std::vector<base::Vec3>& struts_dish,
                                       const Ground& ground, NamedView view);

/// The nearest camera of a direction that still shows every point inside the margins.
Camera fit(const std::vector<base::Vec3>& points_world, double azimuth_rad, double elevation_rad,
           const Picture& picture, const Margins& margins);

/// The camera of a named view that shows these points.
Camera named_camera(const std::vector<base::Vec3>& points_world, NamedView view,
                    const Picture& picture, const Margins& margins);

}  // namespace yard
