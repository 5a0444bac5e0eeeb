// Facet types: can this outline be cut, and does the surface reach over it?
#include <fmt/format.h>

#include <cmath>

#include "base/units.h"
#include "dish/outline_facts.h"
#include "dish/part_checks.h"

namespace dish {
namespace {

using base::mm_from_m;
using base::Problem;
using base::Problems;
using ranges::Quantity;

void judge_sector(Judge& judge, const AnnularSector& sector) {
  judge.number(Quantity::inner_radius, sector.inner_radius_m);
  judge.number(Quantity::outer_radius, sector.outer_radius_m);
  judge.number(Quantity::opening, sector.opening_rad);
  if (judge.clean() && !(sector.inner_radius_m < sector.outer_radius_m))
    judge.problem(fmt::format("a petal from {:.6g} to {:.6g} mm", mm_from_m(sector.inner_radius_m),
                              mm_from_m(sector.outer_radius_m)),
                  "an outer radius larger than the inner one");
}

/// Each way a polygon can be wrong has its own words.
void judge_polygon(Judge& judge, const Polygon& polygon) {
  constexpr std::size_t k_most_corners = 1000;
  const Corners& corners = polygon.corners_m;
  if (corners.size() < 3 || corners.size() > k_most_corners) {
    judge.problem(fmt::format("a polygon with {} corners", corners.size()),
                  fmt::format("3 to {} corners", k_most_corners));
    return;
  }
  for (const base::Vec2& corner : corners) judge.pair(Quantity::corner, corner);
  if (!judge.clean()) return;
  const double area = signed_area(corners);
  const double reach = bounding_radius(polygon);
  if (std::abs(area) <= 1e-9 * reach * reach) {
    judge.problem("a polygon without area", "corners that do not lie in a line");
  } else if (area < 0.0) {
    judge.problem("the polygon's corners go clockwise",
                  "anticlockwise as seen from the sun: list them the other way round");
  } else if (!is_convex(corners)) {
    judge.problem("the polygon has a corner that points inward, or crosses itself",
                  "a convex outline");
  }
}

void judge_outline(Judge& judge, const Outline& outline) {
  if (const auto* hexagon = std::get_if<Hexagon>(&outline))
    judge.number(Quantity::across_flats, hexagon->across_flats_m);
  if (const auto* disc = std::get_if<Disc>(&outline))
    judge.number(Quantity::outline_diameter, disc->diameter_m);
  if (const auto* sector = std::get_if<AnnularSector>(&outline)) judge_sector(judge, *sector);
  if (const auto* polygon = std::get_if<Polygon>(&outline)) judge_polygon(judge, *polygon);
  if (const auto* rectangle = std::get_if<Rectangle>(&outline)) {
    judge.number(Quantity::outline_width, rectangle->width_m);
    judge.number(Quantity::outline_height, rectangle->height_m);
  }
}

void judge_surface(Judge& judge, const Surface& surface) {
  if (const auto* sphere = std::get_if<Spherical>(&surface))
    judge.number(Quantity::surface_radius, sphere->radius_m);
  if (const auto* paraboloid = std::get_if<Paraboloid>(&surface))
    judge.number(Quantity::surface_focal_length, paraboloid->focal_length_m);
  if (const auto* piece = std::get_if<OffAxisParaboloid>(&surface)) {
    judge.number(Quantity::parent_focal_length, piece->focal_length_m);
    if (piece->off_axis_m) judge.number(Quantity::off_axis, *piece->off_axis_m);
    if (piece->meridian_rad) judge.number(Quantity::meridian, *piece->meridian_rad);
  }
}

}  // namespace

base::Problems problems_of(const FacetType& type) {
  Judge judge(place_of(type.name));
  judge.name("the name", type.name.text);
  judge_outline(judge, type.outline);
  judge_surface(judge, type.surface);
  judge.number(Quantity::reflectance, type.reflectance);
  judge.number(Quantity::cleanliness, type.cleanliness);
  judge.number(Quantity::slope_error, type.slope_error_rad);
  judge.number(Quantity::specularity_error, type.specularity_error_rad);
  if (!judge.clean()) return judge.take();
  Problems problems = problems_of(type.form_error, type.outline, place_of(type.name));
  if (type.coating) {
    for (Problem& problem : problems_of(*type.coating, place_of(type.name) + ", coating"))
      problems.push_back(std::move(problem));
  }
  if (!problems.empty()) return problems;
  const auto* sphere = std::get_if<Spherical>(&type.surface);
  const double reach = bounding_radius(type.outline);
  if (sphere != nullptr && !(std::abs(sphere->radius_m) > reach))
    judge.problem(fmt::format("a sphere of {:.6g} mm radius", mm_from_m(sphere->radius_m)),
                  fmt::format("more than {:.6g} mm: the outline reaches that far from its centre",
                              mm_from_m(reach)));
  return judge.take();
}

}  // namespace dish
