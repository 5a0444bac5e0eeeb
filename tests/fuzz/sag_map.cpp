// Any bytes as a sag map: read or refused in words; what reads is whole and is written stably.
#include "files/sag_map.h"

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "dish/part_checks.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), size);
  const auto first = files::read_sag_map(text, "fuzz.csv");
  if (!first.ok()) {
    for (const base::Problem& problem : first.problems()) {
      CHECK(!base::to_line(problem).empty(), "a problem says something");
    }
    CHECK(first.problems().size() <= 20, "problems are told in one go, but not without end");
    return 0;
  }
  CHECK(dish::problems_of(first.value(), "map").empty(), "a map that reads can stand in a dish");
  const std::string once = files::write_sag_map(first.value());
  const auto second = files::read_sag_map(once, "fuzz.csv");
  CHECK(second.ok(), "what was written reads");
  CHECK(files::write_sag_map(second.value()) == once, "what reads is written as the same bytes");
  return 0;
}
