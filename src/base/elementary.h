// Sine, cosine, logarithm, exponential and the inverse normal distribution from + - * / and sqrt
// alone, so that every machine, native or WebAssembly, gives the same bits. The C library's own may
// differ.
#pragma once

namespace base {

struct SinCos {
  double sin = 0.0;
  double cos = 1.0;
};

/// Sine and cosine of an angle in whole turns. |turns| < 2^28. Absolute error below 2e-16:
/// the angle is brought to an eighth of a turn, then Taylor's series to x^17 and x^18, whose first
/// neglected terms are below 1e-18.
SinCos sincos_turns(double turns);

/// Natural logarithm of a normal, finite number above zero. Relative error below 4e-16, away from 1
/// where it is absolute. x = m 2^e with m in [sqrt(1/2), sqrt(2)); log m = 2 atanh((m-1)/(m+1)).
double log_positive(double x);

/// e^x for |x| <= 700. Relative error below 4e-16: x = k ln 2 + r, |r| <= ln 2 / 2, then Taylor's
/// series to r^14, whose first neglected term is below 2e-19.
double exp_of(double x);

/// x with P(Z < x) = p for a standard normal Z; 0 < p < 1. Relative error about 1e-16.
/// Source: Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988) 477.
double inverse_normal(double p);

}  // namespace base
