// Numbers of a seeded stream, the same on every machine.
#pragma once

#include <random>

namespace support {

class Seeded {
 public:
  explicit Seeded(unsigned seed) : engine_(seed) {}
  /// Even between two limits.
  double operator()(double least, double most) {
    return least + (most - least) * (static_cast<double>(engine_()) / 4294967296.0);
  }
  bool coin() { return (engine_() & 1u) != 0; }
  /// One of 0 to `count` - 1.
  int pick(int count) { return static_cast<int>(engine_() % static_cast<unsigned>(count)); }

 private:
  std::mt19937 engine_;
};

}  // namespace support
