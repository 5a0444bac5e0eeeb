// Hash, low-discrepancy points, own elementary functions and compensated sums.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

#include "base/elementary.h"
#include "base/hash.h"
#include "base/sobol.h"
#include "base/sums.h"
#include "support/figures.h"

TEST_CASE("sine and cosine of turns agree with the library and are exact at the quarters") {
  double worst = 0.0;
  for (int k = -5000; k <= 5000; ++k) {
    const double turns = k * 0.000737;
    const auto [s, c] = base::sincos_turns(turns);
    const long double angle = 2.0L * 3.14159265358979323846264338327950288L * turns;
    worst = std::max({worst, std::abs(s - static_cast<double>(std::sin(angle))),
                      std::abs(c - static_cast<double>(std::cos(angle)))});
  }
  CHECK(worst < 2.3e-16);
  CHECK(base::sincos_turns(0.25).sin == 1.0);
  CHECK(base::sincos_turns(0.5).cos == -1.0);
  CHECK(base::sincos_turns(-0.25).cos == 0.0);
}

TEST_CASE("the logarithm agrees with the library") {
  double worst = 0.0;
  for (int k = -700; k <= 700; ++k) {
    const double x = std::exp(k * 1.0 + 0.37);
    const double exact = static_cast<double>(std::log(static_cast<long double>(x)));
    worst = std::max(worst, std::abs(base::log_positive(x) / exact - 1.0));
  }
  CHECK(worst < 4e-16);
  CHECK(base::log_positive(1.0) == 0.0);
}

TEST_CASE("the exponential agrees with the library") {
  double worst = 0.0;
  for (int k = -7000; k <= 7000; ++k) {
    const double x = 0.0999 * k;
    const double exact = static_cast<double>(std::exp(static_cast<long double>(x)));
    worst = std::max(worst, std::abs(base::exp_of(x) / exact - 1.0));
  }
  CHECK(worst < 4e-16);
  CHECK(base::exp_of(0.0) == 1.0);
}

// Source: Wichura, Applied Statistics 37 (1988) 477, the three check values printed with AS 241.
TEST_CASE("inverse normal meets the check values of AS 241") {
  CHECK(base::inverse_normal(0.25) == doctest::Approx(-0.6744897501960817).epsilon(1e-15));
  CHECK(base::inverse_normal(0.001) == doctest::Approx(-3.090232306167814).epsilon(1e-15));
  CHECK(base::inverse_normal(1e-20) == doctest::Approx(-9.262340089798408).epsilon(1e-15));
  CHECK(base::inverse_normal(0.5) == 0.0);
}

TEST_CASE("inverse normal undoes the normal distribution") {
  for (int k = -60; k <= 60; ++k) {
    const double x = 0.1 * k;
    const double p = 0.5 * std::erfc(-x / std::sqrt(2.0));
    // The distribution itself loses digits toward 1: allow its rounding over the density.
    const double density = 0.3989422804014327 * std::exp(-0.5 * x * x);
    CHECK(std::abs(base::inverse_normal(p) - x) < 4e-16 * (1.0 + std::abs(x)) + 3e-16 / density);
  }
}

// Law of the set (Joe & Kuo 2008, "Property A"): of the first 2^d points of d dimensions exactly
// one lies in each of the 2^d orthants of the cube, whatever their order. A wrong direction number
// breaks it with even odds in every dimension from its own on.
TEST_CASE("the first 2^d points of d dimensions take each orthant once") {
  for (int d = 1; d <= base::k_sobol_dimensions; ++d) {
    std::vector<char> taken(std::size_t{1} << d, 0);
    for (std::uint32_t index = 0; index < (1u << d); ++index) {
      std::size_t orthant = 0;
      for (int k = 0; k < d; ++k) {
        orthant = 2 * orthant + (base::Sobol::plain(index, k) >> 31);
      }
      taken[orthant] = 1;
    }
    std::size_t count = 0;
    for (const char one : taken) count += static_cast<std::size_t>(one);
    CHECK(count == taken.size());
  }
}

TEST_CASE("scrambled points keep one point in each of 1024 slices of every dimension") {
  base::Sobol points(7, 3, 1, 2048);
  std::vector<std::set<int>> slices(base::k_sobol_dimensions);
  for (int n = 0; n < 1024; ++n) {
    double x[base::k_sobol_dimensions];
    points.next(x, base::k_sobol_dimensions);
    for (std::size_t d = 0; d < slices.size(); ++d) slices[d].insert(static_cast<int>(x[d] * 1024));
  }
  for (const auto& slice : slices) CHECK(slice.size() == 1024);
}

TEST_CASE("a stream can be entered anywhere and differs from its neighbours") {
  base::Sobol whole(11, 5, 2, 0);
  double last[base::k_sobol_dimensions] = {};
  for (int n = 0; n <= 777; ++n) whole.next(last, base::k_sobol_dimensions);
  base::Sobol entered(11, 5, 2, 777);
  double here[base::k_sobol_dimensions] = {};
  entered.next(here, base::k_sobol_dimensions);
  for (int d = 0; d < base::k_sobol_dimensions; ++d) CHECK(here[d] == last[d]);
  double other[base::k_sobol_dimensions] = {};
  base::Sobol(11, 5, 3, 777).next(other, base::k_sobol_dimensions);
  for (int d = 0; d < base::k_sobol_dimensions; ++d) CHECK(other[d] != here[d]);
  support::record_figure("base/sobol_point_777_dimension_15", here[15]);
}

// The integral of a product of 12 factors is 1; a million plain random points would leave 2e-3.
TEST_CASE("randomised copies integrate without bias and better than random points") {
  double mean = 0.0;
  double square = 0.0;
  const int copies = 32;
  for (std::uint32_t copy = 0; copy < copies; ++copy) {
    base::Sobol points(1, 0, copy, 0);
    base::Sum sum;
    for (int n = 0; n < 4096; ++n) {
      double x[12];
      points.next(x, 12);
      double product = 1.0;
      for (const double one : x) product *= 1.0 + 0.5 * (one - 0.5);
      sum.add(product);
    }
    const double answer = sum.value() / 4096;
    mean += answer / copies;
    square += (answer - 1.0) * (answer - 1.0) / copies;
  }
  const double rms = std::sqrt(square);
  const double random_rms = std::sqrt((std::pow(1.0 + 1.0 / 48.0, 12) - 1.0) / 4096.0);
  CHECK(rms < 0.1 * random_rms);
  CHECK(std::abs(mean - 1.0) < 4.0 * rms / std::sqrt(double(copies)));
}

TEST_CASE("the hash spreads neighbouring counters") {
  std::set<std::uint32_t> seen;
  int bits = 0;
  for (std::uint32_t k = 0; k < 4096; ++k) {
    const base::Word4 word = base::hash4({k, 0, 0, 0});
    seen.insert(word[0]);
    std::uint32_t changed = word[1] ^ base::hash4({k ^ 1u, 0, 0, 0})[1];
    for (; changed != 0; changed &= changed - 1) ++bits;
  }
  CHECK(seen.size() == 4096);
  CHECK(bits / 4096.0 == doctest::Approx(16.0).epsilon(0.02));
}

TEST_CASE("a compensated sum keeps what a plain sum loses") {
  base::Sum sum;
  for (const double term : {1.0, 1e100, 1.0, -1e100}) sum.add(term);
  CHECK(sum.value() == 2.0);
  base::Sum left;
  base::Sum right;
  left.add(1e16);
  right.add(1.0);
  right.add(-1e16);
  left.add(right);
  CHECK(left.value() == 1.0);
}
