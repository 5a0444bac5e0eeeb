// Any bytes as a dish file: read or refused in words; what reads is written stably.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "dish/checks.h"
#include "files/dish_read.h"
#include "files/dish_write.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), size);
  const auto first = files::read_dish(text, "fuzz.dish.json");
  if (!first.ok()) {
    for (const base::Problem& problem : first.problems()) {
      CHECK(!base::to_line(problem).empty(), "a problem says something");
    }
    CHECK(first.problems().size() <= 20, "problems are told in one go, but not without end");
    return 0;
  }
  CHECK(dish::errors_of(first.value().dish).empty(), "a dish that reads has no errors");
  const std::string once = files::write_dish(first.value().dish);
  const auto second = files::read_dish(once, "fuzz.dish.json");
  CHECK(second.ok(), "what was written reads");
  CHECK(files::write_dish(second.value().dish) == once, "what reads is written as the same bytes");
  return 0;
}
