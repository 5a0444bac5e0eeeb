// Sobol's sequence kept with its bits reversed, the order in which the scrambling hash works.
#include "base/sobol.h"

#include "base/check.h"
#include "base/hash.h"

namespace base {
namespace {

/// Primitive polynomial (degree s, inner coefficients a) and first direction numbers.
struct Row {
  int degree;
  unsigned inner;
  std::array<unsigned, 6> first;
};

// Joe & Kuo 2008, dimensions 2 to 16.
constexpr std::array<Row, k_sobol_dimensions - 1> k_rows = {{
    {1, 0, {1}},
    {2, 1, {1, 3}},
    {3, 1, {1, 3, 1}},
    {3, 2, {1, 1, 1}},
    {4, 1, {1, 1, 3, 3}},
    {4, 4, {1, 3, 5, 13}},
    {5, 2, {1, 1, 5, 5, 17}},
    {5, 4, {1, 1, 5, 5, 5}},
    {5, 7, {1, 1, 7, 11, 19}},
    {5, 11, {1, 1, 5, 1, 1}},
    {5, 13, {1, 1, 1, 3, 11}},
    {5, 14, {1, 3, 5, 5, 31}},
    {6, 1, {1, 3, 3, 9, 7, 49}},
    {6, 13, {1, 1, 1, 15, 21, 21}},
    {6, 16, {1, 3, 1, 13, 27, 49}},
}};

constexpr std::uint32_t reversed(std::uint32_t x) {
  x = ((x >> 1) & 0x55555555u) | ((x & 0x55555555u) << 1);
  x = ((x >> 2) & 0x33333333u) | ((x & 0x33333333u) << 2);
  x = ((x >> 4) & 0x0f0f0f0fu) | ((x & 0x0f0f0f0fu) << 4);
  x = ((x >> 8) & 0x00ff00ffu) | ((x & 0x00ff00ffu) << 8);
  return (x >> 16) | (x << 16);
}

using Directions = std::array<std::array<std::uint32_t, k_sobol_dimensions>, 32>;

/// Direction numbers [bit][dimension], bits reversed.
constexpr Directions make_directions() {
  Directions v{};
  for (std::size_t bit = 0; bit < 32; ++bit) v[bit][0] = 1u << (31 - bit);
  for (std::size_t d = 1; d < k_sobol_dimensions; ++d) {
    const Row& row = k_rows[d - 1];
    const auto s = static_cast<std::size_t>(row.degree);
    for (std::size_t bit = 0; bit < 32; ++bit) {
      if (bit < s) {
        v[bit][d] = row.first[bit] << (31 - bit);
        continue;
      }
      std::uint32_t next = v[bit - s][d] ^ (v[bit - s][d] >> s);
      for (std::size_t k = 1; k < s; ++k) {
        if ((row.inner >> (s - 1 - k)) & 1u) next ^= v[bit - k][d];
      }
      v[bit][d] = next;
    }
  }
  for (auto& row : v) {
    for (std::uint32_t& word : row) word = reversed(word);
  }
  return v;
}

constexpr Directions k_directions = make_directions();

/// A permutation in which each bit depends on the lower ones only: on reversed bits that is a
/// nested scrambling of the digits.
std::uint32_t scrambled(std::uint32_t x, std::uint32_t key) {
  x ^= x * 0x3d20adeau;
  x += key;
  x *= (key >> 16) | 1u;
  x ^= x * 0x05526c56u;
  x ^= x * 0x53a22864u;
  return x;
}

std::uint32_t state_at(std::uint32_t index, std::size_t dimension) {
  std::uint32_t gray = index ^ (index >> 1);
  std::uint32_t x = 0;
  for (std::size_t bit = 0; gray != 0; ++bit, gray >>= 1) {
    if (gray & 1u) x ^= k_directions[bit][dimension];
  }
  return x;
}

}  // namespace

Sobol::Sobol(std::uint64_t seed, std::uint32_t facet, std::uint32_t replicate, std::uint32_t first)
    : index_(first) {
  const auto low = static_cast<std::uint32_t>(seed);
  const auto high = static_cast<std::uint32_t>(seed >> 32);
  const Word4 stream = hash4({low, high, facet, replicate});
  for (std::size_t d = 0; d < k_sobol_dimensions; ++d) {
    state_[d] = state_at(first, d);
    key_[d] =
        hash4({stream[0], stream[1], stream[2] ^ stream[3], static_cast<std::uint32_t>(d)})[0];
  }
}

void Sobol::next(double* out, int count) {
  BASE_CHECK(count >= 0 && count <= k_sobol_dimensions, "the sequence has sixteen dimensions");
  for (std::size_t d = 0; d < static_cast<std::size_t>(count); ++d) {
    out[d] = open_unit(reversed(scrambled(state_[d], key_[d])));
  }
  // Gray code: one direction number changes, at the lowest zero bit of the index.
  std::size_t bit = 0;
  for (std::uint32_t rest = index_; rest & 1u; rest >>= 1) ++bit;
  ++index_;
  if (bit >= 32) return;
  const auto& direction = k_directions[bit];
  for (std::size_t d = 0; d < k_sobol_dimensions; ++d) state_[d] ^= direction[d];
}

std::uint32_t Sobol::plain(std::uint32_t index, int dimension) {
  return reversed(state_at(index, static_cast<std::size_t>(dimension)));
}

}  // namespace base
