// Values that may be problems, and the lines a person reads.
#include <doctest/doctest.h>

#include <memory>
#include <string>

#include "base/result.h"

namespace {

base::Result<int> half(int number) {
  if (number % 2 != 0) return base::Problem{"half", std::to_string(number), "an even number"};
  return number / 2;
}

}  // namespace

TEST_CASE("a result holds either its value or its problems") {
  const auto good = half(8);
  CHECK(good.ok());
  CHECK(static_cast<bool>(good));
  CHECK(good.value() == 4);
  const auto bad = half(7);
  CHECK_FALSE(bad.ok());
  REQUIRE(bad.problems().size() == 1);
  CHECK(bad.problems()[0].place == "half");
}

TEST_CASE("a value can be moved out of a result that nobody else needs") {
  base::Result<std::unique_ptr<int>> result = std::make_unique<int>(5);
  const std::unique_ptr<int> taken = std::move(result).value();
  CHECK(*taken == 5);
}

TEST_CASE("several problems are kept in order") {
  const base::Result<int> result = base::Problems{{"a", "1", "2"}, {"b", "3", "4"}};
  REQUIRE(result.problems().size() == 2);
  CHECK(result.problems()[1].place == "b");
}

TEST_CASE("a problem reads as one line, whatever of it is known") {
  CHECK(base::to_line({"facet A3", "0 mm", "a lead above zero"}) ==
        "facet A3: 0 mm; expected a lead above zero");
  CHECK(base::to_line({"", "0 mm", "more"}) == "0 mm; expected more");
  CHECK(base::to_line({"facet A3", "", "more"}) == "facet A3; expected more");
  CHECK(base::to_line({"facet A3", "broken", ""}) == "facet A3: broken");
  CHECK(base::to_line({}).empty());
}

TEST_CASE("problems read as one line each") {
  CHECK(base::to_text({{"a", "1", "2"}, {"b", "3", ""}}) == "a: 1; expected 2\nb: 3\n");
  CHECK(base::to_text({}).empty());
}
