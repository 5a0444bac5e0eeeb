// Two logs of one dish merged: any two files, joined by a zero byte.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "dish/checks.h"
#include "dish/merge.h"
#include "files/dish_read.h"
#include "files/dish_write.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), size);
  const std::size_t cut = text.find('\0');
  const auto a = files::read_dish(text.substr(0, cut), "a.dish.json");
  if (!a.ok()) return 0;
  const dish::Dish& mine = a.value().dish;
  const auto same = dish::merge_rounds(mine, mine);
  CHECK(same.ok() && same.value().dish.rounds == mine.rounds,
        "merging with itself changes nothing");
  CHECK(same.value().conflicts.empty(), "nothing contradicts itself");
  dish::Dish other = mine;
  if (cut != std::string_view::npos) {
    auto b = files::read_dish(text.substr(cut + 1), "b.dish.json");
    if (b.ok()) other = std::move(b).value().dish;
  } else if (!other.rounds.empty()) {
    // One file alone: a second person who read the first round otherwise.
    for (dish::Spot& spot : other.rounds.front().spots) spot.seen_m.x *= 0.5;
  }
  const auto merged = dish::merge_rounds(mine, other);
  if (!merged.ok()) return 0;
  const dish::Dish& both = merged.value().dish;
  CHECK(both.rounds.size() >= mine.rounds.size(), "no round is lost");
  CHECK(both.rounds.size() >= other.rounds.size(), "no round is lost");
  if (dish::errors_of(other).empty()) CHECK(dish::errors_of(both).empty(), "good stays good");
  const std::string once = files::write_dish(both);
  const auto again = files::read_dish(once, "both.dish.json");
  CHECK(again.ok() && files::write_dish(again.value().dish) == once, "what was merged reads");
  return 0;
}
