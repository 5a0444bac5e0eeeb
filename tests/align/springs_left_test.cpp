// The fewest turns give way to the middle of the range before a spring is at its end.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "align/correct.h"
#include "align/facet_setup.h"
#include "support/reference_dish.h"
#include "support/says.h"

namespace {

/// One facet whose springs leave about +-4 mm, all screws moved by `lift_m` and tilted a little.
align::Correction corrected_at(double lift_m, align::Piston piston) {
  dish::Dish dish = support::one_facet_dish({0.5, 0.0, 0.03125});
  dish.springs.push_back({.name = {"soft"},
                          .free_length_m = 0.030,
                          .solid_length_m = 0.012,
                          .installed_length_m = 0.022,
                          .rate_N_m = 2000.0,
                          .least_force_N = 2.0});
  dish.mounts[0].spring = {"soft"};
  for (auto& adjuster : dish.mounts[0].adjusters) {
    adjuster.travel_min_m = -0.004;
    adjuster.travel_max_m = 0.004;
  }
  // The file knows how far the facet stands out; the spot shows a tilt.
  dish.facets[0].displacement_m = {lift_m, lift_m, lift_m};
  const auto correction = align::correct(dish, dish.facets[0], align::sighting_of(dish, {}),
                                         base::Vec2{0.03, 0.01}, {.piston = piston});
  if (!correction) FAIL(base::to_text(correction.problems()));
  return correction.value();
}

double turns_told(const align::Correction& correction) {
  double turns = 0.0;
  for (const auto& screw : correction.screws) turns += std::abs(screw.turns);
  return turns;
}

}  // namespace

// Source: common practice, no source: a screw under 1.5 turns from its end is moved toward the
// middle. Raw: lead 1 mm, range +-4 mm, a facet that already stands 3 mm out.
TEST_CASE("a screw near the end of its spring is brought back to the middle") {
  using align::Piston;
  const auto middling = corrected_at(0.0, Piston::fewest_turns);
  CHECK(std::any_of(middling.screws.begin(), middling.screws.end(),
                    [](const auto& screw) { return std::abs(screw.turns) < 1e-9; }));
  CHECK(middling.piston.unmet.empty());
  const auto far_out = corrected_at(0.003, Piston::fewest_turns);
  const auto middle = corrected_at(0.003, Piston::mid_range);
  CHECK(support::says(far_out.piston.unmet, "under 1½ turns"));
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(far_out.screws[k].displacement_m == middle.screws[k].displacement_m);
    CHECK(std::abs(far_out.screws[k].after_m) < 0.0015);
  }
  CHECK(turns_told(far_out) > turns_told(middling));
  // A person who asks for the facet's height gets it.
  CHECK(corrected_at(0.003, Piston::keep_height).piston.unmet.empty());
}
