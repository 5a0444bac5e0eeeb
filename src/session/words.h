// The words that choices are kept and shown under, in the order of their enums.
#pragma once

#include <array>
#include <cstddef>

#include "session/actions.h"

namespace session {

inline constexpr std::array<const char*, 5> k_stage_words = {"lay_out", "form", "mount", "light",
                                                             "align"};
inline constexpr std::array<const char*, 7> k_tint_words = {"plain",  "kind", "power", "spread",
                                                            "shadow", "tilt", "travel"};
inline constexpr std::array<const char*, 2> k_theme_words = {"lamp", "noon"};
inline constexpr std::array<const char*, 2> k_side_words = {"back", "front"};
inline constexpr std::array<const char*, 7> k_piston_words = {
    "keep_height",   "hold_screw",   "fewest_turns", "least_largest_turn",
    "least_squares", "tighten_only", "mid_range"};
inline constexpr std::array<const char*, 2> k_pivot_words = {"mount", "fixed"};

/// The word of a choice.
template <class Enum, std::size_t n>
const char* word(const std::array<const char*, n>& words, Enum value) {
  return words[static_cast<std::size_t>(value)];
}

}  // namespace session
