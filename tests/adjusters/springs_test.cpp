// Springs at the screws: Hooke's law, states, and the range they leave.
#include "adjusters/springs.h"

#include <doctest/doctest.h>

#include "support/figures.h"

namespace {

using adjusters::SpringState;

/// 30 mm free, 12 mm solid, 22 mm installed, 2 N/mm, at least 2 N.
dish::Spring spring_to_bracket() { return {}; }

}  // namespace

// Source: Hooke's law, F = rate (free length - length); raw numbers of the spring above: 8 mm
// shortened by 2 N/mm is 16 N at nominal. Exact.
TEST_CASE("a spring's length and force follow its screw") {
  dish::Spring spring = spring_to_bracket();
  CHECK(adjusters::spring_at(&spring, 0.0).force_N == doctest::Approx(16.0));
  CHECK(adjusters::spring_at(&spring, 0.003).length_m == doctest::Approx(0.019));
  CHECK(adjusters::spring_at(&spring, 0.003).force_N == doctest::Approx(22.0));
  spring.pushes_to_sun = true;
  CHECK(adjusters::spring_at(&spring, 0.003).length_m == doctest::Approx(0.025));
  CHECK(adjusters::spring_at(&spring, 0.003).force_N == doctest::Approx(10.0));
  CHECK(adjusters::loading_direction(&spring) == -1);
  spring.pushes_to_sun = false;
  CHECK(adjusters::loading_direction(&spring) == 1);
  CHECK(adjusters::loading_direction(nullptr) == 0);
}

TEST_CASE("a spring goes through its states from slack to solid") {
  const dish::Spring spring = spring_to_bracket();
  const auto state = [&](double mm) { return adjusters::spring_at(&spring, mm / 1e3).state; };
  CHECK(state(-8.0) == SpringState::slack);
  CHECK(state(-7.5) == SpringState::low);
  CHECK(state(-6.9) == SpringState::ok);
  CHECK(state(8.1) == SpringState::ok);
  CHECK(state(8.3) == SpringState::near_solid);
  CHECK(state(10.0) == SpringState::solid);
  CHECK(adjusters::spring_at(&spring, -9.0).force_N == 0.0);
  CHECK(adjusters::spring_at(nullptr, 0.1).state == SpringState::none);
}

TEST_CASE("travel and spring together leave a range in which the spring is in order") {
  dish::Spring spring = spring_to_bracket();
  dish::Adjuster adjuster{.travel_min_m = -0.02, .travel_max_m = 0.02};
  // Least force at 1 mm before free: -7 mm; a tenth of 18 mm before solid: +8.2 mm.
  auto range = adjusters::working_range(adjuster, &spring);
  CHECK(range.least == doctest::Approx(-0.007));
  CHECK(range.most == doctest::Approx(0.0082));
  support::record_figure("adjusters/spring_range_most_m", range.most);
  spring.pushes_to_sun = true;
  range = adjusters::working_range(adjuster, &spring);
  CHECK(range.least == doctest::Approx(-0.0082));
  CHECK(range.most == doctest::Approx(0.007));
  adjuster.travel_max_m = 0.002;
  CHECK(adjusters::working_range(adjuster, &spring).most == 0.002);
  CHECK(adjusters::working_range(adjuster, nullptr).least == -0.02);
  for (const double at : {-0.0081, 0.0, 0.0069}) {
    CHECK(adjusters::spring_at(&spring, at).state == SpringState::ok);
  }
}

TEST_CASE("a spring that fits nowhere leaves an empty range") {
  dish::Spring spring = spring_to_bracket();
  spring.installed_length_m = 0.050;
  const auto range = adjusters::working_range({}, &spring);
  CHECK(range.least > range.most);
}
