// Any bytes as a table of leans or of heights: read or refused in words; what reads is written
// stably.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "dish/defaults.h"
#include "files/readings.h"

namespace {

template <class Read, class Write>
void hold(std::string_view text, Read read, Write write) {
  static const dish::Dish dish = dish::default_dish();
  const auto first = read(text, "fuzz.csv", dish);
  if (!first.ok()) {
    for (const base::Problem& problem : first.problems()) {
      CHECK(!base::to_line(problem).empty(), "a problem says something");
    }
    return;
  }
  const std::string once = write(first.value().readings);
  const auto second = read(once, "fuzz.csv", dish);
  CHECK(second.ok(), "what was written reads");
  CHECK(second.value().readings.size() == first.value().readings.size(), "no row is lost");
  CHECK(write(second.value().readings) == once, "what reads is written as the same bytes");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), size);
  hold(text, files::read_leans, files::write_leans);
  hold(text, files::read_heights, files::write_heights);
  return 0;
}
