// The words that stand for choices in a dish file, one table for reader and writer.
#pragma once

#include <array>
#include <string>

#include "base/check.h"
#include "dish/coating.h"
#include "dish/mount.h"
#include "dish/rounds.h"

namespace files {

template <class T>
struct Word {
  T value;
  const char* text;
};

inline constexpr std::array<Word<dish::Hand>, 2> k_hands{
    {{dish::Hand::right, "right"}, {dish::Hand::left, "left"}}};
inline constexpr std::array<Word<dish::Side>, 2> k_sides{
    {{dish::Side::back, "back"}, {dish::Side::front, "front"}}};
inline constexpr std::array<Word<dish::Carry>, 2> k_carries{
    {{dish::Carry::with, "with"}, {dish::Carry::against, "against"}}};
inline constexpr std::array<Word<dish::BracketLie>, 2> k_lies{
    {{dish::BracketLie::facet, "facet"}, {dish::BracketLie::aperture, "aperture"}}};

inline constexpr std::array<Word<dish::Metal>, 4> k_metals{{{dish::Metal::silver, "silver"},
                                                            {dish::Metal::aluminium, "aluminium"},
                                                            {dish::Metal::gold, "gold"},
                                                            {dish::Metal::copper, "copper"}}};
inline constexpr std::array<Word<dish::Cover>, 3> k_covers{{{dish::Cover::none, "none"},
                                                            {dish::Cover::acrylic, "acrylic"},
                                                            {dish::Cover::glass, "glass"}}};

/// Kinds of things that are variants in the dish: the value is the alternative's index.
inline constexpr std::array<Word<int>, 5> k_outline_shapes{
    {{0, "hexagon"}, {1, "rectangle"}, {2, "disc"}, {3, "annular sector"}, {4, "polygon"}}};
inline constexpr std::array<Word<int>, 4> k_surface_forms{
    {{0, "flat"}, {1, "spherical"}, {2, "paraboloid"}, {3, "off-axis paraboloid"}}};
inline constexpr std::array<Word<int>, 4> k_sun_shapes{
    {{0, "pillbox"}, {1, "limb darkened"}, {2, "gaussian"}, {3, "circumsolar"}}};
inline constexpr std::array<Word<int>, 5> k_secondary_forms{
    {{0, "flat"}, {1, "hyperboloid"}, {2, "ellipsoid"}, {3, "sphere"}, {4, "paraboloid"}}};
inline constexpr std::array<Word<int>, 2> k_receiver_shapes{{{0, "disc"}, {1, "rectangle"}}};
inline constexpr std::array<Word<int>, 3> k_blocker_shapes{{{0, "disc"}, {1, "box"}, {2, "tube"}}};
inline constexpr std::array<Word<int>, 3> k_source_kinds{{{0, "sun"}, {1, "laser"}, {2, "lamp"}}};

/// Errors of all facets together, in the order of dish::LeftOut.
inline constexpr std::array<Word<int>, dish::k_common_modes> k_common_modes{
    {{0, "shift_x"}, {1, "shift_y"}, {2, "radial"}, {3, "swirl"}, {4, "saddle"}, {5, "saddle_45"}}};

template <class T, std::size_t N>
const char* word_of(const std::array<Word<T>, N>& words, T value) {
  for (const Word<T>& word : words) {
    if (word.value == value) return word.text;
  }
  BASE_CHECK(false, "every choice of a dish has its word in the file");
  return "";
}

/// `"right" or "left"`, for messages.
template <class T, std::size_t N>
std::string list_of_words(const std::array<Word<T>, N>& words) {
  std::string list;
  for (std::size_t i = 0; i < N; ++i) {
    if (i > 0) list += i + 1 < N ? ", " : " or ";
    list += '"' + std::string(words[i].text) + '"';
  }
  return list;
}

}  // namespace files
