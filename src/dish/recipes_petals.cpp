// Petals and the opening that keeps the gap between them.
//
// In the aperture plane a petal whose centre is at radius r_c, tilted so that lengths along the
// radius shrink by c = n.z, has its point (rho, h) (polar about its apex, h from the u axis) at
//   x = r_c + (rho cos h - r_mid) c,   y = rho sin h      with r_c = r_mid here.
// The line half way to its neighbour runs at the angle a = pi / count. The point keeps half a gap g
// from it when x sin a - y cos a >= g / 2, that is
//   rho (c sin a cos h - cos a sin h) >= g / 2 - r_mid (1 - c) sin a = K.
// With M = hypot(c sin a, cos a) and p = atan2(cos a, c sin a) the bracket is M cos(h + p), so the
// largest half opening at rho is acos(K / (rho M)) - p. It grows or falls steadily with rho, so the
// inner and the outer corner decide.
#include "dish/recipes_petals.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "base/elementary.h"
#include "base/units.h"
#include "dish/recipes.h"
#include "dish/recipes_common.h"

namespace dish {
namespace {

using base::Vec2;
using ranges::Quantity;

double middle_radius(const PetalRing& ring) {
  return 0.5 * (ring.inner_radius_m + ring.outer_radius_m);
}

void judge_ring(base::Problems& problems, const PetalRing& ring, std::size_t index) {
  judge(problems, Quantity::inner_radius, ring.inner_radius_m);
  judge(problems, Quantity::outer_radius, ring.outer_radius_m);
  judge(problems, Quantity::petal_count, ring.count);
  judge(problems, Quantity::clocking, ring.first_rad);
  if (!(ring.inner_radius_m < ring.outer_radius_m))
    problems.push_back({fmt::format("layout, ring {}", index + 1),
                        ranges::value_text(Quantity::inner_radius, ring.inner_radius_m) + " to " +
                            ranges::value_text(Quantity::outer_radius, ring.outer_radius_m),
                        "an outer radius larger than the inner one"});
}

base::Problems problems_of(const PetalsLayout& layout, double focal_length_m) {
  base::Problems problems;
  judge(problems, Quantity::layout_gap, layout.gap_m);
  judge_frame(problems, layout.frame, focal_length_m);
  if (layout.rings.empty()) problems.push_back({"layout, rings", "none", "at least one ring"});
  std::size_t petals = 0;
  for (std::size_t i = 0; i < layout.rings.size(); ++i) {
    judge_ring(problems, layout.rings[i], i);
    petals += static_cast<std::size_t>(std::max(layout.rings[i].count, 0));
    if (i > 0 && layout.rings[i].inner_radius_m < layout.rings[i - 1].outer_radius_m)
      problems.push_back(
          {fmt::format("layout, ring {}", i + 1),
           ranges::value_text(Quantity::inner_radius, layout.rings[i].inner_radius_m),
           "an inner radius of at least the outer radius of the ring before, " +
               ranges::value_text(Quantity::outer_radius, layout.rings[i - 1].outer_radius_m)});
  }
  if (petals > k_most_facets)
    problems.push_back(
        {"layout", fmt::format("{} petals", petals), fmt::format("at most {}", k_most_facets)});
  return problems;
}

/// Largest half opening that keeps the gap at the radius `rho` of the petal; see the file's head.
double half_opening_at(double rho, double r_mid, double shrink, int count, double gap) {
  const double a = base::k_pi / count;
  const double k = 0.5 * gap - r_mid * (1.0 - shrink) * std::sin(a);
  const double m = std::hypot(shrink * std::sin(a), std::cos(a));
  const double p = std::atan2(std::cos(a), shrink * std::sin(a));
  const double share = k / (rho * m);
  if (share > 1.0) return -1.0;  // the gap is wider than the place there is
  return std::acos(std::max(share, -1.0)) - p;
}

}  // namespace

base::Result<AnnularSector> petal_outline(const PetalsLayout& layout, std::size_t ring,
                                          double focal_length_m) {
  CHECK(ring < layout.rings.size(), "a petal belongs to one of the layout's rings");
  base::Problems problems = problems_of(layout, focal_length_m);
  if (!problems.empty()) return problems;
  const PetalRing& petal = layout.rings[ring];
  const double r_mid = middle_radius(petal);
  const auto centre = place_on(layout.frame, focal_length_m, Vec2{r_mid, 0.0});
  if (!centre) return centre.problems();
  const double shrink = prime_focus_normal(centre.value(), focal_length_m).z;
  double half = half_opening_at(petal.outer_radius_m, r_mid, shrink, petal.count, layout.gap_m);
  // A petal that runs to a point on the axis has no inner corners.
  if (petal.inner_radius_m > 0.0)
    half = std::min(
        half, half_opening_at(petal.inner_radius_m, r_mid, shrink, petal.count, layout.gap_m));
  const AnnularSector outline{petal.inner_radius_m, petal.outer_radius_m, 2.0 * half};
  if (!ranges::in_range(Quantity::opening, outline.opening_rad))
    return base::Problem{
        fmt::format("layout, ring {}, gap_mm", ring + 1),
        ranges::value_text(Quantity::layout_gap, layout.gap_m),
        fmt::format("a gap that leaves something of {} petals at a radius of {}", petal.count,
                    ranges::value_text(Quantity::inner_radius, petal.inner_radius_m))};
  return outline;
}

base::Result<std::vector<Facet>> lay_petals(const PetalsLayout& layout, double focal_length_m) {
  base::Problems problems = problems_of(layout, focal_length_m);
  if (!problems.empty()) return problems;
  std::vector<Facet> facets;
  for (std::size_t i = 0; i < layout.rings.size(); ++i) {
    const PetalRing& ring = layout.rings[i];
    const auto outline = petal_outline(layout, i, focal_length_m);
    if (!outline) return outline.problems();
    const double radius = middle_radius(ring);
    for (int number = 0; number < ring.count; ++number) {
      // In whole turns, so that quarters of the circle come out with round coordinates.
      const double turns =
          ring.first_rad / (2.0 * base::k_pi) + static_cast<double>(number) / ring.count;
      const base::SinCos azimuth = base::sincos_turns(turns);
      const Vec2 xy{radius * azimuth.cos, radius * azimuth.sin};
      const auto centre = place_on(layout.frame, focal_length_m, xy);
      if (!centre) return centre.problems();
      facets.push_back(
          {.id = {fmt::format("{}{}", ring_letters(static_cast<int>(i) + 1), number + 1)},
           .type = ring.type,
           .mount = layout.mount,
           .centre_m = centre.value(),
           .clocking_rad = 2.0 * base::k_pi * std::remainder(turns, 1.0)});
    }
  }
  return counted(std::move(facets));
}

}  // namespace dish
