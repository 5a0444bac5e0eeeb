// Springs: the law of a compression spring, for both ways it can hold a facet.
#include <doctest/doctest.h>

#include "dish/defaults.h"
#include "dish/spring_facts.h"

TEST_CASE("moving a screw in the loading direction raises the force by the rate") {
  for (const bool pushes_to_sun : {false, true}) {
    dish::Spring spring = dish::default_spring();
    spring.pushes_to_sun = pushes_to_sun;
    const int loading = dish::loading_direction(spring);
    CHECK(loading == (pushes_to_sun ? -1 : 1));
    const double before = dish::spring_force_N(spring, 0.0);
    CHECK(dish::spring_force_N(spring, 0.001 * loading) ==
          doctest::Approx(before + 0.001 * spring.rate_N_m).epsilon(1e-12));
    CHECK(dish::spring_length_m(spring, 0.001 * loading) ==
          doctest::Approx(spring.installed_length_m - 0.001).epsilon(1e-12));
  }
}

TEST_CASE("a spring longer than free does not pull") {
  const dish::Spring spring = dish::default_spring();
  CHECK(dish::spring_length_m(spring, -0.009) > spring.free_length_m);
  CHECK(dish::spring_force_N(spring, -0.009) == 0.0);
}

TEST_CASE("the default spring holds the facet over the default mount's whole travel") {
  const dish::Spring spring = dish::default_spring();
  for (const dish::Adjuster& screw : dish::default_mount().adjusters) {
    for (const double at : {screw.travel_min_m, 0.0, screw.travel_max_m}) {
      CHECK(dish::spring_force_N(spring, at) >= spring.least_force_N);
      CHECK(dish::spring_length_m(spring, at) > spring.solid_length_m);
    }
  }
}
