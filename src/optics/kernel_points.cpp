// Scrambling once for a copy; then exclusive ors only.
#include "optics/kernel_points.h"

#include "base/check.h"
#include "base/hash.h"
#include "base/sobol.h"

namespace optics {
namespace {

constexpr int k_bits = 23;
constexpr std::uint32_t k_one = 0x3f800000u;  ///< of single precision: its 23 low bits follow

std::uint32_t parity(std::uint32_t x) {
  x ^= x >> 16;
  x ^= x >> 8;
  x ^= x >> 4;
  return (0x6996u >> (x & 15u)) & 1u;
}

base::Word4 stream_of(std::uint64_t seed, std::uint32_t a, std::uint32_t b) {
  return base::hash4(
      {static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32), a, b});
}

/// Rows of a random lower triangular matrix with ones on its diagonal: row k takes digit k and
/// random ones of the digits before it, the first digit being the highest bit.
std::array<std::uint32_t, k_bits> random_rows(const base::Word4& stream, std::uint32_t dimension) {
  std::array<std::uint32_t, k_bits> rows{};
  for (std::uint32_t k = 0; k < k_bits; ++k) {
    const std::uint32_t word =
        base::hash4({stream[0], stream[1], stream[2] ^ dimension, stream[3] ^ (k << 8)})[0];
    const std::uint32_t digit = 0x80000000u >> k;
    rows[k] = digit | (word & ~(digit | (digit - 1)));
  }
  return rows;
}

}  // namespace

PointCopy::PointCopy(std::uint64_t seed, std::uint32_t replicate, int bits, int lanes)
    : seed_(seed), replicate_(replicate) {
  BASE_CHECK(bits >= 0 && bits <= 32, "points are numbered with 32 bits");
  bits = bits < 4 ? 4 : bits;
  const base::Word4 stream = stream_of(seed, 0x9e3779b9u, replicate);
  for (std::uint32_t d = 0; d < k_kernel_dimensions; ++d) {
    const auto rows = random_rows(stream, d);
    for (int bit = 0; bit < bits; ++bit) {
      // The point whose Gray code is this bit alone.
      const auto plain = base::Sobol::plain(0xffffffffu >> (31 - bit), static_cast<int>(d));
      std::uint32_t scrambled = 0;
      for (const std::uint32_t row : rows) scrambled = (scrambled << 1) | parity(row & plain);
      direction_[static_cast<std::size_t>(bit)][d] = scrambled;
    }
  }
  fill(step_, lanes);
  fill(step_alone_, 1);
}

/// Counting one group on turns over the low one bits and the zero above them.
void PointCopy::fill(Steps& steps, int lanes) const {
  std::size_t low = 0;
  while ((1 << low) < lanes) ++low;
  Row all{};
  for (std::size_t k = 0; k < 12; ++k) {
    for (std::size_t d = 0; d < k_kernel_dimensions; ++d) {
      all[d] ^= direction_[k + low][d];
      steps[k][d] = all[d];
    }
  }
}

KernelPoints PointCopy::block(std::uint32_t facet, std::uint32_t first) const {
  BASE_CHECK(first % 16 == 0, "blocks start at whole sixteens");
  const base::Word4 stream = stream_of(seed_, facet, replicate_);
  Row start{};
  for (std::uint32_t k = 0; k < k_kernel_dimensions / 4; ++k) {
    const base::Word4 words = base::hash4({stream[0], stream[1], stream[2] ^ stream[3], k});
    for (std::size_t n = 0; n < 4; ++n) start[4 * k + n] = k_one | (words[n] >> (32 - k_bits));
  }
  for (std::size_t bit = 4; bit < 32; ++bit) {
    if (!((first >> bit) & 1u)) continue;
    for (std::size_t d = 0; d < k_kernel_dimensions; ++d) start[d] ^= direction_[bit][d];
  }
  KernelPoints points;
  points.step = step_;
  points.step_alone = step_alone_;
  for (std::size_t d = 0; d < k_kernel_dimensions; ++d) {
    std::uint32_t* const state = points.state[d];
    state[0] = start[d];
    for (std::size_t bit = 0; bit < 4; ++bit) {
      const std::size_t before = std::size_t{1} << bit;
      for (std::size_t k = 0; k < before; ++k) state[before + k] = state[k] ^ direction_[bit][d];
    }
  }
  return points;
}

}  // namespace optics
