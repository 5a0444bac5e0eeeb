// Any bytes as the photographs of an identify request: answered or refused in words, and an answer
// names no facet twice for one photograph.
#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <string_view>
#include <utility>

#include "base/check.h"
#include "dish/defaults.h"
#include "files/dish_write.h"
#include "tasks/json.h"
#include "tasks/task.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  static const std::string dish = tasks::to_dense_text(files::write_dish(dish::default_dish()));
  const std::string text(reinterpret_cast<const char*>(bytes), size);
  // Most bytes are no JSON at all; they are the reader's own business.
  if (!tasks::parse_json(text, "fuzz").ok()) return 0;
  const std::string reply = tasks::run_to_text(R"({"task": "identify", "dish": )" + dish +
                                               R"(, "photos": )" + text + "}");
  const auto parsed = tasks::parse_json(reply, "reply");
  CHECK(parsed.ok(), "a reply is JSON");
  if (parsed.value().contains("problems")) {
    CHECK(!parsed.value()["problems"].empty(), "a refusal says why");
    return 0;
  }
  std::set<std::pair<int, std::string>> seen;
  for (const tasks::Json& facet : parsed.value()["facets"]) {
    const bool is_new =
        seen.emplace(facet["photo"].get<int>(), facet["facet"].get<std::string>()).second;
    CHECK(is_new, "each facet once in a photograph");
  }
  return 0;
}
