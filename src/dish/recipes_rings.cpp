// Walks around each ring of the triangular lattice.
#include "dish/recipes_rings.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "dish/recipes.h"
#include "dish/recipes_common.h"

namespace dish {
namespace {

using base::Vec2;
using ranges::Quantity;

constexpr double k_half_sqrt3 = 0.8660254037844386;

/// A lattice point as whole steps along 0 and 60 degrees.
struct Step {
  int a;
  int b;
};

/// Steps of a ring, anticlockwise from its corner on +x: from each corner n steps along the side,
/// which starts out at 120 degrees and turns by 60 at every corner.
std::vector<Step> ring_steps(int n) {
  if (n == 0) return {{0, 0}};
  constexpr std::array<Step, 6> sides{{{-1, 1}, {-1, 0}, {0, -1}, {1, -1}, {1, 0}, {0, 1}}};
  std::vector<Step> steps;
  Step at{n, 0};
  for (const Step& side : sides) {
    for (int i = 0; i < n; ++i) {
      steps.push_back(at);
      at = {at.a + side.a, at.b + side.b};
    }
  }
  return steps;
}

base::Problems problems_of(const RingsLayout& layout, double focal_length_m) {
  base::Problems problems;
  judge(problems, Quantity::ring_count, layout.rings);
  judge(problems, Quantity::layout_pitch, layout.pitch_m);
  judge_frame(problems, layout.frame, focal_length_m);
  for (const int ring : layout.left_out) {
    if (ring < 0 || ring > layout.rings)
      problems.push_back({"layout, left_out", fmt::format("ring {}", ring),
                          fmt::format("a ring from 0 (the centre) to {}", layout.rings)});
  }
  return problems;
}

}  // namespace

base::Result<std::vector<Facet>> lay_rings(const RingsLayout& layout, double focal_length_m) {
  base::Problems problems = problems_of(layout, focal_length_m);
  if (!problems.empty()) return problems;
  std::vector<Facet> facets;
  for (int ring = 0; ring <= layout.rings; ++ring) {
    const auto& out = layout.left_out;
    if (std::find(out.begin(), out.end(), ring) != out.end()) continue;
    int number = ring == 0 ? 0 : 1;
    for (const Step& step : ring_steps(ring)) {
      const Vec2 xy = layout.pitch_m * Vec2{step.a + 0.5 * step.b, k_half_sqrt3 * step.b};
      const auto centre = place_on(layout.frame, focal_length_m, xy);
      if (!centre) return centre.problems();
      facets.push_back({.id = {fmt::format("{}{}", ring_letters(std::max(ring, 1)), number++)},
                        .type = layout.type,
                        .mount = layout.mount,
                        .centre_m = centre.value()});
    }
  }
  return counted(std::move(facets));
}

}  // namespace dish
