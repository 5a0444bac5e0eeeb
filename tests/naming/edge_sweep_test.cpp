// When spots go out. How well two crossings name them stands in practice/identify_rates_test.cpp.
#include "naming/edge_sweep.h"

#include <doctest/doctest.h>

TEST_CASE("a spot on which others lie goes out with its own facet, or has no time") {
  const std::vector<double> times{0.0, 1.0, 2.0, 3.0, 4.0, 5.0};
  const auto out = naming::times_dimmed({{1.0, 1.0, 1.0},
                                         {0.85, 0.8, 0.66},
                                         {0.84, 0.79, 0.65},
                                         {0.4, 0.02, 0.3},
                                         {0.1, 0.01, 0.28},
                                         {0.09, 0.0, 0.0}},
                                        times);
  // A neighbour's share goes first: the own light falls from 0.84 to 0.1.
  CHECK(*out[0] == doctest::Approx(2.0 + 0.37 / 0.44));
  CHECK(*out[1] == doctest::Approx(2.5));
  // Three facets of like light.
  CHECK_FALSE(out[2].has_value());
}

TEST_CASE("a spot goes out when half of its light is gone, between two frames in proportion") {
  const std::vector<double> times{0.0, 1.0, 2.0, 3.0};
  const auto out = naming::times_dimmed(
      {{1.0, 1.0, 1.0, 1.0}, {0.9, 0.3, 1.0, 0.2}, {0.1, 0.0, 1.0, 0.8}, {0.0, 0.0, 0.9, 0.0}},
      times);
  REQUIRE(out.size() == 4);
  CHECK(*out[0] == doctest::Approx(1.5));
  CHECK(*out[1] == doctest::Approx(5.0 / 7.0));
  CHECK_FALSE(out[2].has_value());
  CHECK(*out[3] == doctest::Approx(2.5));
  CHECK(naming::times_dimmed({{1.0}}, times).empty());
}
