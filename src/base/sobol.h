// A low-discrepancy sequence in sixteen dimensions, scrambled anew for each stream.
#pragma once

#include <array>
#include <cstdint>

namespace base {

inline constexpr int k_sobol_dimensions = 16;

/// One randomised copy of Sobol's sequence. Copies with different streams are independent, so the
/// spread between their means is an honest standard error; points within one copy are not.
/// Sources: direction numbers of Joe & Kuo, SIAM J. Sci. Comput. 30 (2008) 2635 (the set
/// new-joe-kuo-6.21201); nested uniform scrambling by hash after Burley, JCGT 9(4) (2020), with the
/// mixing of Laine & Karras, Computer Graphics Forum 30(4) (2011).
class Sobol {
 public:
  /// Stands at point `first` of the stream named by three numbers.
  Sobol(std::uint64_t seed, std::uint32_t facet, std::uint32_t replicate, std::uint32_t first);

  /// Coordinates of the present point in (0, 1), first `count` of them; then goes to the next.
  /// Points come in Gray-code order: 2^k of them from a multiple of 2^k are the sequence's own.
  void next(double* out, int count);

  /// Unscrambled coordinate as a 32-bit fraction, for tests.
  static std::uint32_t plain(std::uint32_t index, int dimension);

 private:
  std::uint32_t index_;
  std::array<std::uint32_t, k_sobol_dimensions> state_{};  ///< bits reversed
  std::array<std::uint32_t, k_sobol_dimensions> key_{};
};

}  // namespace base
