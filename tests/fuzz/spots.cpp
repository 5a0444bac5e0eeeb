// Any bytes as a spots table: read or refused in words; what reads is written stably.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "files/spots.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), size);
  const auto first = files::read_spots(text, "fuzz.csv");
  if (!first.ok()) {
    for (const base::Problem& problem : first.problems()) {
      CHECK(!base::to_line(problem).empty(), "a problem says something");
    }
    return 0;
  }
  const std::string once = files::write_spots(first.value().rows);
  const auto second = files::read_spots(once, "fuzz.csv");
  CHECK(second.ok(), "what was written reads");
  CHECK(second.value().rows.size() == first.value().rows.size(), "no row is lost");
  CHECK(files::write_spots(second.value().rows) == once, "what reads is written as the same bytes");
  return 0;
}
