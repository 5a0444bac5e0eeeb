// See elementary.h: the same bits everywhere.
#include "base/elementary.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>

#include "base/check.h"
#include "base/units.h"

namespace base {
namespace {

template <std::size_t N>
double horner(const std::array<double, N>& coefficient, double x) {
  double sum = coefficient[N - 1];
  for (std::size_t k = N - 1; k-- > 0;) sum = sum * x + coefficient[k];
  return sum;
}

// Signed reciprocals of odd and even factorials.
constexpr std::array<double, 9> k_sine = {1.0,
                                          -1.0 / 6.0,
                                          1.0 / 120.0,
                                          -1.0 / 5040.0,
                                          1.0 / 362880.0,
                                          -1.0 / 39916800.0,
                                          1.0 / 6227020800.0,
                                          -1.0 / 1307674368000.0,
                                          1.0 / 355687428096000.0};
constexpr std::array<double, 10> k_cosine = {1.0,
                                             -1.0 / 2.0,
                                             1.0 / 24.0,
                                             -1.0 / 720.0,
                                             1.0 / 40320.0,
                                             -1.0 / 3628800.0,
                                             1.0 / 479001600.0,
                                             -1.0 / 87178291200.0,
                                             1.0 / 20922789888000.0,
                                             -1.0 / 6402373705728000.0};

// Reciprocals of the odd numbers: atanh(s) / s as a series in s^2.
constexpr std::array<double, 13> k_atanh = {
    1.0,        1.0 / 3.0,  1.0 / 5.0,  1.0 / 7.0,  1.0 / 9.0,  1.0 / 11.0, 1.0 / 13.0,
    1.0 / 15.0, 1.0 / 17.0, 1.0 / 19.0, 1.0 / 21.0, 1.0 / 23.0, 1.0 / 25.0};

// Reciprocals of factorials.
constexpr std::array<double, 15> k_exponential = {1.0,
                                                  1.0,
                                                  1.0 / 2.0,
                                                  1.0 / 6.0,
                                                  1.0 / 24.0,
                                                  1.0 / 120.0,
                                                  1.0 / 720.0,
                                                  1.0 / 5040.0,
                                                  1.0 / 40320.0,
                                                  1.0 / 362880.0,
                                                  1.0 / 3628800.0,
                                                  1.0 / 39916800.0,
                                                  1.0 / 479001600.0,
                                                  1.0 / 6227020800.0,
                                                  1.0 / 87178291200.0};

// ln 2 in two parts, the first with few enough bits that its product with an exponent is exact.
constexpr double k_ln2_high = 0x1.62e42fee00000p-1;
constexpr double k_ln2_low = 0x1.a39ef35793c76p-33;

// AS 241, PPND16: numerators and denominators for the middle, the near and the far tail.
constexpr std::array<double, 8> k_middle_top = {3.3871328727963666080e0, 1.3314166789178437745e2,
                                                1.9715909503065514427e3, 1.3731693765509461125e4,
                                                4.5921953931549871457e4, 6.7265770927008700853e4,
                                                3.3430575583588128105e4, 2.5090809287301226727e3};
constexpr std::array<double, 8> k_middle_bottom = {1.0,
                                                   4.2313330701600911252e1,
                                                   6.8718700749205790830e2,
                                                   5.3941960214247511077e3,
                                                   2.1213794301586595867e4,
                                                   3.9307895800092710610e4,
                                                   2.8729085735721942674e4,
                                                   5.2264952788528545610e3};
constexpr std::array<double, 8> k_near_top = {1.42343711074968357734e0,  4.63033784615654529590e0,
                                              5.76949722146069140550e0,  3.64784832476320460504e0,
                                              1.27045825245236838258e0,  2.41780725177450611770e-1,
                                              2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr std::array<double, 8> k_near_bottom = {1.0,
                                                 2.05319162663775882187e0,
                                                 1.67638483018380384940e0,
                                                 6.89767334985100004550e-1,
                                                 1.48103976427480074590e-1,
                                                 1.51986665636164571966e-2,
                                                 5.47593808499534494600e-4,
                                                 1.05075007164441684324e-9};
constexpr std::array<double, 8> k_far_top = {6.65790464350110377720e0,  5.46378491116411436990e0,
                                             1.78482653991729133580e0,  2.96560571828504891230e-1,
                                             2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                             2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr std::array<double, 8> k_far_bottom = {1.0,
                                                5.99832206555887937690e-1,
                                                1.36929880922735805310e-1,
                                                1.48753612908506148525e-2,
                                                7.86869131145613259100e-4,
                                                1.84631831751005468180e-5,
                                                1.42151175831644588870e-7,
                                                2.04426310338993978564e-15};

}  // namespace

SinCos sincos_turns(double turns) {
  // Bring the angle to within an eighth of a turn of a quarter, exactly.
  const double quarters = std::floor(4.0 * turns + 0.5);
  const double x = (turns - 0.25 * quarters) * (2.0 * k_pi);
  const double x2 = x * x;
  const double s = x * horner(k_sine, x2);
  const double c = horner(k_cosine, x2);
  switch (static_cast<std::int64_t>(quarters) & 3) {
    case 0:
      return {s, c};
    case 1:
      return {c, -s};
    case 2:
      return {-s, -c};
    default:
      return {-c, s};
  }
}

double log_positive(double x) {
  BASE_CHECK(x >= 0x1p-1022 && x <= 0x1.fffffffffffffp1023,
             "a logarithm is of a normal number above 0");
  std::uint64_t bits = 0;
  std::memcpy(&bits, &x, sizeof bits);
  auto exponent = static_cast<int>(bits >> 52) - 1023;
  bits = (bits & 0x000fffffffffffffull) | 0x3ff0000000000000ull;
  double mantissa = 0.0;
  std::memcpy(&mantissa, &bits, sizeof mantissa);
  if (mantissa > 1.4142135623730951) {
    mantissa *= 0.5;
    exponent += 1;
  }
  const double s = (mantissa - 1.0) / (mantissa + 1.0);
  return exponent * k_ln2_high + (2.0 * s * horner(k_atanh, s * s) + exponent * k_ln2_low);
}

double exp_of(double x) {
  BASE_CHECK(std::abs(x) <= 700.0, "an exponential fits a double");
  const double k = std::floor(x / (k_ln2_high + k_ln2_low) + 0.5);
  const double r = (x - k * k_ln2_high) - k * k_ln2_low;
  return std::ldexp(horner(k_exponential, r), static_cast<int>(k));
}

double inverse_normal(double p) {
  BASE_CHECK(p > 0.0 && p < 1.0, "a probability between 0 and 1 has a normal deviate");
  const double q = p - 0.5;
  if (std::abs(q) <= 0.425) {
    const double r = 0.180625 - q * q;
    return q * horner(k_middle_top, r) / horner(k_middle_bottom, r);
  }
  const double tail = q < 0.0 ? p : 1.0 - p;
  const double r = std::sqrt(-log_positive(tail));
  const double size = r <= 5.0 ? horner(k_near_top, r - 1.6) / horner(k_near_bottom, r - 1.6)
                               : horner(k_far_top, r - 5.0) / horner(k_far_bottom, r - 5.0);
  return q < 0.0 ? -size : size;
}

}  // namespace base
