// Logarithm, sine and cosine in lanes, from + - * alone, so that every machine gives the same bits.
#pragma once

#include "base/lanes.h"

namespace base {

/// The power of two in a normal positive number, and the rest within [sqrt(1/2), sqrt(2)).
template <class R>
struct Split {
  R exponent;
  R rest;
};
template <class R>
LANES_INLINE Split<R> split(R x) {
  using Words = typename R::Words;
  using Int = typename Words::Int;
  constexpr int mantissa_bits = sizeof(Int) == 4 ? 23 : 52;
  constexpr Int root_half =
      sizeof(Int) == 4 ? static_cast<Int>(0x3f3504f3) : static_cast<Int>(0x3fe6a09e667f3bcdll);
  const Words bits = bits_of(x);
  const Words exponent{(bits.v - root_half) >> mantissa_bits};
  return {to_reals(exponent), reals_of_bits(Words{bits.v - (exponent.v << mantissa_bits)})};
}

/// Natural logarithm of a normal positive number. Relative error below 6e-7 (the polynomial and
/// single precision's rounding), never positive for x < 1.
/// log x = e log 2 + f P(f), f = m - 1, with P the interpolation of log(1+f)/f at the eight
/// Chebyshev nodes of the range; its error is below 2.3e-7.
template <class R>
LANES_INLINE R log_positive(R x) {
  using T = typename R::Scalar;
  const Split<R> parts = split(x);
  const R f = parts.rest - R(T(1));
  R p(T(-0.0989535074));
  p = p * f + R(T(0.161262479));
  p = p * f + R(T(-0.172782061));
  p = p * f + R(T(0.199133479));
  p = p * f + R(T(-0.24968907));
  p = p * f + R(T(0.33334606));
  p = p * f + R(T(-0.500003751));
  p = p * f + R(T(0.999999968));
  return parts.exponent * R(T(0.693147181)) + f * p;
}

/// Sine and cosine of an angle in turns, 0 to 1. Absolute error below 8e-7, of rounding mostly.
/// With t = turns - 1/2: cos = 2 sin^2(pi t) - 1 and sin = -2 sin(pi t) cos(pi t); both are
/// interpolated in t^2 at five Chebyshev nodes, with errors below 1.4e-8 and 4.7e-8.
template <class R>
struct SinCosLanes {
  R sin;
  R cos;
};
template <class R>
LANES_INLINE SinCosLanes<R> sincos_of_turns(R turns) {
  using T = typename R::Scalar;
  const R t = turns - R(T(0.5));
  const R z = t * t;
  R s(T(0.0776559123));
  s = s * z + R(T(-0.598290411));
  s = s * z + R(T(2.55007739));
  s = s * z + R(T(-5.16771008));
  s = s * z + R(T(3.14159264));
  s = s * t;
  R c(T(0.219682424));
  c = c * z + R(T(-1.33187297));
  c = c * z + R(T(4.05841079));
  c = c * z + R(T(-4.9347928));
  c = c * z + R(T(0.999999953));
  const R twice = s + s;
  return {-(twice * c), twice * s - R(T(1))};
}

}  // namespace base
