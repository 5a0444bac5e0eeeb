// The random numbers of practised alignments.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace practice {

/// Random numbers that depend on (seed, trial, purpose) and on nothing else.
class Draws {
 public:
  Draws(std::uint64_t seed, std::uint32_t trial, std::uint32_t purpose);
  double uniform();  ///< in (0, 1)
  double normal();
  bool chance(double p) { return uniform() < p; }
  std::size_t poisson(double mean);  ///< mean <= 20

 private:
  std::array<std::uint32_t, 3> key_;
  std::uint32_t counter_ = 0;
};

}  // namespace practice
