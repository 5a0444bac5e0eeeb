// The one door between SI and the units of the trade.
#include <doctest/doctest.h>

#include <cmath>

#include "base/units.h"

TEST_CASE("known conversions") {
  CHECK(base::m_from_mm(230.0) == 0.23);
  CHECK(base::mm_from_m(0.25) == 250.0);
  CHECK(base::rad_from_mrad(4.0) == 0.004);
  CHECK(base::mrad_from_rad(0.002) == 2.0);
  CHECK(base::rad_from_deg(180.0) == base::k_pi);
  CHECK(base::deg_from_rad(base::k_pi / 2.0) == 90.0);
}

TEST_CASE("there and back changes a value by rounding only") {
  for (int k = -400; k <= 400; ++k) {
    const double value = k * 0.37 + 0.011;
    CHECK(base::mm_from_m(base::m_from_mm(value)) == doctest::Approx(value).epsilon(1e-15));
    CHECK(base::mrad_from_rad(base::rad_from_mrad(value)) == doctest::Approx(value).epsilon(1e-15));
    CHECK(base::deg_from_rad(base::rad_from_deg(value)) == doctest::Approx(value).epsilon(1e-15));
  }
}
