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

 private:
  std::mt19937 engine_;
};

}  // namespace support
