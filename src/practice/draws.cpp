// Counted random numbers, hashed.
#include "practice/draws.h"

#include "base/elementary.h"
#include "base/hash.h"

namespace practice {

Draws::Draws(std::uint64_t seed, std::uint32_t trial, std::uint32_t purpose)
    : key_{static_cast<std::uint32_t>(seed),
           static_cast<std::uint32_t>(seed >> 32u) + 0x9e3779b9u * purpose, trial} {}

double Draws::uniform() {
  return base::open_unit(base::hash4({key_[0], key_[1], key_[2], counter_++})[0]);
}

double Draws::normal() { return base::inverse_normal(uniform()); }

std::size_t Draws::poisson(double mean) {
  const double limit = base::exp_of(-mean);
  std::size_t count = 0;
  double product = uniform();
  while (product > limit) {
    product *= uniform();
    ++count;
  }
  return count;
}

}  // namespace practice
