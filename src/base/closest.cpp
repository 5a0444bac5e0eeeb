// Edit distance, and the closest of several words.
#include "base/closest.h"

#include <algorithm>
#include <utility>

namespace base {

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> older;
  std::vector<std::size_t> above(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::vector<std::size_t> row(b.size() + 1, i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({change, above[j] + 1, row[j - 1] + 1});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], older[j - 2] + 1);
      }
    }
    older = std::move(above);
    above = std::move(row);
  }
  return above[b.size()];
}

std::optional<std::string> closest(std::string_view word, const std::vector<std::string>& known) {
  constexpr std::size_t k_longest = 64;
  if (word.size() > k_longest) return std::nullopt;
  std::optional<std::string> best;
  std::size_t least = std::max<std::size_t>(1, word.size() / 3) + 1;
  for (const std::string& candidate : known) {
    if (candidate.size() > word.size() + least || word.size() > candidate.size() + least) continue;
    const std::size_t changes = edit_distance(word, candidate);
    if (changes < least) {
      least = changes;
      best = candidate;
    }
  }
  return best;
}

}  // namespace base
