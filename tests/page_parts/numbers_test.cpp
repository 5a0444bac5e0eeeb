// Numbers as the page writes them.
#include "page/widgets/numbers.h"

#include <doctest/doctest.h>

#include <limits>

TEST_CASE("a person reads sensible digits, a true minus and thin spaces") {
  CHECK(widgets::figures(0.0, 3) == "0");
  CHECK(widgets::figures(9.996, 3) == "10.0");
  CHECK(widgets::figures(-0.012345, 3) ==
        "\xE2\x88\x92"
        "0.0123");
  CHECK(widgets::figures(1234567.0, 3) ==
        "1\xE2\x80\xAF"
        "230\xE2\x80\xAF"
        "000");
  CHECK(widgets::decimals(-0.04, 1) == "0.0");
  CHECK(widgets::decimals(1234.5, 1) == "1234.5");
  CHECK(widgets::plain(0.25) == "0.25");
  CHECK(widgets::plain(50.0) == "50");
}

TEST_CASE("units change where a person would change them") {
  CHECK(widgets::watts(9.94) == "9.9 W");
  CHECK(widgets::watts(812.4) == "812 W");
  CHECK(widgets::watts(1192.0) == "1.19 kW");
  CHECK(widgets::flux(64120.0) == "64.1 kW/m²");
  CHECK(widgets::flux(812.0) == "812 W/m²");
  CHECK(widgets::millimetres(0.0123) == "12.3 mm");
  CHECK(widgets::millimetres(0.4567) == "457 mm");
  CHECK(widgets::percent(0.813) == "81.3 %");
}

TEST_CASE("what is no number reads as a dash") {
  const double none = std::numeric_limits<double>::quiet_NaN();
  CHECK(widgets::figures(none, 3) == "\xE2\x80\x93");
  CHECK(widgets::decimals(none, 1) == "\xE2\x80\x93");
}
