// Form errors: terms in range, an edge that leaves a middle, a map that covers its facet.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "dish/outline_facts.h"
#include "dish/part_checks.h"

namespace dish {
namespace {

using base::mm_from_m;
using base::Problems;
using ranges::Quantity;

/// Every height; the first that cannot be is named by its row and column.
void judge_heights(Judge& judge, const SagMap& map) {
  const auto bad = std::find_if(map.sag_m.begin(), map.sag_m.end(), [](double sag) {
    return !ranges::in_range(Quantity::map_sag, sag);
  });
  if (bad == map.sag_m.end()) return;
  const auto index = bad - map.sag_m.begin();
  judge.problem(fmt::format("row {}, column {} is {}", index / map.columns + 1,
                            index % map.columns + 1, ranges::value_text(Quantity::map_sag, *bad)),
                ranges::range_text(Quantity::map_sag));
}

}  // namespace

Problems problems_of(const SagMap& map, const std::string& place) {
  Judge judge(place);
  const auto is_side = [](int count) { return count >= 2 && count <= k_most_map_side; };
  const auto heights = static_cast<std::ptrdiff_t>(map.sag_m.size());
  if (!is_side(map.columns) || !is_side(map.rows) ||
      heights != static_cast<std::ptrdiff_t>(map.columns) * map.rows) {
    judge.problem(
        fmt::format("{} heights in {} columns and {} rows", heights, map.columns, map.rows),
        fmt::format("a full grid of 2 to {} columns and rows", k_most_map_side));
    return judge.take();
  }
  judge.pair(Quantity::map_first, map.first_m);
  judge.pair(Quantity::map_step, map.step_m);
  judge_heights(judge, map);
  return judge.take();
}

Problems map_misfit(const SagMap& map, const Outline& outline, const std::string& place) {
  base::Vec2 low{HUGE_VAL, HUGE_VAL};
  base::Vec2 high{-HUGE_VAL, -HUGE_VAL};
  for (const base::Vec2& corner : outline_corners(outline)) {
    low = {std::min(low.x, corner.x), std::min(low.y, corner.y)};
    high = {std::max(high.x, corner.x), std::max(high.y, corner.y)};
  }
  // One step may be missing all around: measurements end just inside the edge.
  const base::Vec2 last =
      map.first_m + base::Vec2((map.columns - 1) * map.step_m.x, (map.rows - 1) * map.step_m.y);
  const base::Vec2 from = map.first_m - 1.001 * map.step_m;
  const base::Vec2 to = last + 1.001 * map.step_m;
  if (from.x <= low.x && from.y <= low.y && to.x >= high.x && to.y >= high.y) return {};
  return {{place,
           fmt::format("it covers u {:.6g} to {:.6g} mm, v {:.6g} to {:.6g} mm",
                       mm_from_m(map.first_m.x), mm_from_m(last.x), mm_from_m(map.first_m.y),
                       mm_from_m(last.y)),
           fmt::format("the whole facet, u {:.6g} to {:.6g} mm, v {:.6g} to {:.6g} mm",
                       mm_from_m(low.x), mm_from_m(high.x), mm_from_m(low.y), mm_from_m(high.y))}};
}

Problems problems_of(const FormError& error, const Outline& outline, const std::string& place) {
  Judge judge(place);
  judge.number(Quantity::defocus, error.defocus_m);
  judge.number(Quantity::astigmatism_0, error.astigmatism_0_m);
  judge.number(Quantity::astigmatism_45, error.astigmatism_45_m);
  judge.number(Quantity::trefoil_0, error.trefoil_0_m);
  judge.number(Quantity::trefoil_30, error.trefoil_30_m);
  Problems problems = judge.take();
  if (error.roll_off) {
    Judge edge(place + ", edge roll-off");
    edge.number(Quantity::roll_off_width, error.roll_off->width_m);
    edge.number(Quantity::roll_off_slope, error.roll_off->slope_rad);
    const double most = narrow_half_width(outline);
    if (edge.clean() && !(error.roll_off->width_m <= most))
      edge.problem(
          fmt::format("it is {:.6g} mm wide", mm_from_m(error.roll_off->width_m)),
          fmt::format("at most half the facet's narrow width, {:.6g} mm", mm_from_m(most)));
    append(problems, edge.take());
  }
  if (error.sag_map) {
    Problems own = problems_of(*error.sag_map, place + ", sag map");
    if (own.empty()) own = map_misfit(*error.sag_map, outline, place + ", sag map");
    append(problems, std::move(own));
  }
  return problems;
}

Problems problems_of(const Coating& coating, const std::string& place) {
  Judge judge(place);
  if (coating.cover != Cover::none) judge.number(Quantity::cover_thickness, coating.thickness_m);
  return judge.take();
}

}  // namespace dish
