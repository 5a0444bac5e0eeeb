// Random streams by counter: a hash of what a number is for, so that any part of the work can be
// done by anybody, in any order, with the same result.
#pragma once

#include <array>
#include <cstdint>

namespace base {

using Word4 = std::array<std::uint32_t, 4>;

/// Four well-mixed words from four counters.
/// Source: Jarzynski & Olano, "Hash Functions for GPU Rendering", JCGT 9(3), 2020, pcg4d.
constexpr Word4 hash4(Word4 v) {
  for (std::uint32_t& word : v) word = word * 1664525u + 1013904223u;
  const auto mix = [&v] {
    v[0] += v[1] * v[3];
    v[1] += v[2] * v[0];
    v[2] += v[0] * v[1];
    v[3] += v[1] * v[2];
  };
  mix();
  for (std::uint32_t& word : v) word ^= word >> 16;
  mix();
  return v;
}

/// A number in (0, 1), never an end, from 32 bits.
constexpr double open_unit(std::uint32_t word) { return (word + 0.5) * 0x1p-32; }

}  // namespace base
