// When spots go out. How well two crossings name them stands in practice/identify_rates_test.cpp.
#include "naming/edge_sweep.h"

#include <doctest/doctest.h>

TEST_CASE("a spot goes out when half of its light is gone, between two frames in proportion") {
  const std::vector<double> times{0.0, 1.0, 2.0, 3.0};
  const auto out = naming::times_dimmed(
      {{1.0, 1.0, 1.0, 1.0}, {0.9, 0.3, 1.0, 0.2}, {0.1, 0.0, 1.0, 0.8}, {0.0, 0.0, 0.9, 0.0}},
      times);
  REQUIRE(out.size() == 4);
  CHECK(*out[0] == doctest::Approx(1.5));
  CHECK(*out[1] == doctest::Approx(5.0 / 7.0));
  CHECK_FALSE(out[2].has_value());
  CHECK(*out[3] == doctest::Approx(2.375));
  CHECK(naming::times_dimmed({{1.0}}, times).empty());
}
