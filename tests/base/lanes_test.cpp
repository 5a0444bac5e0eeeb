// Numbers in lanes: every lane as if alone, whatever the width.
#include "base/lanes.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>

#include "base/elementary.h"
#include "base/lane_functions.h"
#include "base/sobol.h"
#include "base/units.h"

#include <doctest/doctest.h>

namespace {

constexpr int k_count = 4096;

/// What all operations make of two numbers, as one list of bits.
template <int N>
std::array<float, 12> all_of(const float* a, const float* b, int at) {
  using R = base::Reals<float, N>;
  const int first = at / N * N;
  const R x = base::load<float, N>(a + first);
  const R y = base::load<float, N>(b + first);
  const auto angle = base::sincos_of_turns(x);
  const R results[12] = {x + y,
                         x - y,
                         x * y,
                         x / y,
                         base::sqrt(x),
                         base::least(x, y),
                         base::greatest(x, y),
                         base::select(x < y, x * x, -y),
                         base::log_positive(y),
                         angle.sin,
                         angle.cos,
                         base::to_reals(base::truncated(x * R(1000.0f)))};
  std::array<float, 12> answer{};
  for (std::size_t k = 0; k < 12; ++k) {
    float lanes[N];
    base::store<float, N>(lanes, results[k]);
    answer[k] = lanes[at - first];
  }
  return answer;
}

struct Numbers {
  std::array<float, k_count> a{};
  std::array<float, k_count> b{};
  Numbers() {
    base::Sobol points(3, 0, 0, 0);
    for (std::size_t k = 0; k < k_count; ++k) {
      double x[2];
      points.next(x, 2);
      a[k] = static_cast<float>(x[0]);
      b[k] = static_cast<float>(x[1]);
    }
  }
};

}  // namespace

TEST_CASE("a lane's bits do not depend on how many lanes there are") {
  const Numbers numbers;
  for (int k = 0; k < k_count; ++k) {
    const auto alone = all_of<1>(numbers.a.data(), numbers.b.data(), k);
    CHECK(alone == all_of<4>(numbers.a.data(), numbers.b.data(), k));
    CHECK(alone == all_of<8>(numbers.a.data(), numbers.b.data(), k));
    CHECK(alone == all_of<16>(numbers.a.data(), numbers.b.data(), k));
  }
}

TEST_CASE("any lane, lane sums and whole numbers") {
  using R = base::Reals<float, 8>;
  float values[8] = {1, 2, 3, 4, 5, 6, 7, 8};
  const R x = base::load<float, 8>(values);
  CHECK(base::any(x > R(7.5f)));
  CHECK(!base::any(x > R(8.0f)));
  CHECK(base::total(base::truncated(x)) == 36);
  CHECK(base::total(base::truncated(x) & (x <= R(3.0f))) == 6);
}

// Reference: the same functions in double (base/elementary.h), good to 4e-16. The tolerances are
// those that the header promises.
TEST_CASE("logarithm, sine and cosine in lanes are good to single precision") {
  using R = base::Reals<float, 4>;
  double worst_log = 0.0;
  double worst_angle = 0.0;
  for (int k = 0; k < 200000; ++k) {
    const float x = (static_cast<float>(k) + 0.5f) / 200000.0f;
    float answer[4];
    base::store<float, 4>(answer, base::log_positive(R(x)));
    const double exact = base::log_positive(static_cast<double>(x));
    worst_log = std::max(worst_log, std::abs(answer[0] / exact - 1.0));
    CHECK(answer[0] <= 0.0f);
    const auto angle = base::sincos_of_turns(R(x));
    const auto [s, c] = base::sincos_turns(static_cast<double>(x));
    base::store<float, 4>(answer, angle.sin);
    worst_angle = std::max(worst_angle, std::abs(answer[0] - s));
    base::store<float, 4>(answer, angle.cos);
    worst_angle = std::max(worst_angle, std::abs(answer[0] - c));
  }
  CAPTURE(worst_log);
  CAPTURE(worst_angle);
  CHECK(worst_log < 6e-7);
  CHECK(worst_angle < 8e-7);
}

TEST_CASE("double lanes serve as the reference") {
  using R = base::Reals<double, 1>;
  for (const double x : {1e-7, 0.1, 0.5, 0.70710678, 0.9, 0.9999999}) {
    CHECK(base::log_positive(R(x)).v == doctest::Approx(std::log(x)).epsilon(3e-7));
    CHECK(std::abs(base::sincos_of_turns(R(x)).sin.v - std::sin(2.0 * base::k_pi * x)) < 2e-7);
  }
}
