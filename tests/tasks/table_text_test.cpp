// Tables, CSV and figures as people read them.
#include <doctest/doctest.h>

#include <cmath>

#include "tasks/table.h"

TEST_CASE("columns line up, names left and numbers right, counted in characters") {
  const tasks::Table table{.columns = {{"name", false}, {"mm"}},
                           .rows = {{"a", "1.5"}, {"l\xC3\xA4rche", "-12.25"}}};
  CHECK(tasks::to_text(table) ==
        "name        mm\n"
        "--------------\n"
        "a          1.5\n"
        "l\xC3\xA4rche  -12.25\n");
}

TEST_CASE("CSV puts quotes around what needs them") {
  CHECK(tasks::to_csv({"a", "b"}, {{"x,y", "say \"so\""}, {"", "1"}}) ==
        "a,b\n\"x,y\",\"say \"\"so\"\"\"\n,1\n");
}

TEST_CASE("figures never show minus zero, NaN or an exponent where none is needed") {
  CHECK(tasks::fixed(-0.0004, 2) == "0.00");
  CHECK(tasks::fixed(std::nan(""), 2) == "-");
  CHECK(tasks::fixed_signed(0.25, 2) == "+0.25");
  CHECK(tasks::fixed_signed(-0.25, 2) == "-0.25");
  CHECK(tasks::fixed_signed(0.001, 2) == "0.00");
  CHECK(tasks::significant(12345.6, 4) == "12346");
  CHECK(tasks::significant(0.0123456, 3) == "0.0123");
  CHECK(tasks::significant(0.0, 3) == "0");
  CHECK(tasks::exact(0.1) == "0.1");
  CHECK(tasks::exact(INFINITY).empty());
}
