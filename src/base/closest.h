// "Perhaps you meant": the known word that a mistyped one is closest to.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace base {

/// Letters changed, added, dropped, or neighbours swapped between two words.
/// Source: restricted edit distance by dynamic programming (textbook).
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The word of `known` at the least edit distance (the first of several), when that is at most a
/// third of the word's length (one slip is always forgiven); else nothing. Words beyond 64
/// letters are no slips of a finger and have none.
std::optional<std::string> closest(std::string_view word, const std::vector<std::string>& known);

}  // namespace base
