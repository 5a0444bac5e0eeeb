// What the facets cover, seen along the dish axis: each one's own area and the hull around all of
// them. Kept so that one facet's move measures one facet.
#pragma once

#include <cstdint>
#include <vector>

#include "base/vec.h"

namespace optics {

struct Scene;

/// A corner of an outline or hull, and whose it is.
struct Corner {
  base::Vec2 at{0.0, 0.0};
  std::uint32_t facet = 0;
};

/// The convex hull of points in the plane, anticlockwise (monotone chain), and a polygon's area.
std::vector<Corner> hull_of(std::vector<Corner> points);
double area_of(const std::vector<Corner>& polygon);

struct Aperture {
  std::vector<double> facet_m2;                     ///< area of each projected outline
  std::vector<std::vector<base::Vec2>> boundaries;  ///< of each edge, in its tangent plane
  std::vector<Corner> hull;
  /// The hull of all but `left_out`, once that one has moved: its next moves start from here.
  std::vector<Corner> rest;
  std::uint32_t left_out = 0xffffffff;
};

/// Sets scene.aperture, gross_aperture_m2 and mirror_area_m2.
void measure_aperture(Scene& scene);

/// The same after one facet moved.
void remeasure_aperture(Scene& scene, std::size_t moved);

}  // namespace optics
