// How many trials the simulated tests play, and how far two simulated figures may differ.
#pragma once

#include <cmath>

namespace practice_test {

/// Sanitized code is some ten times slower; its intervals widen by themselves.
#if defined(__SANITIZE_ADDRESS__)
inline constexpr bool k_is_slow = true;
#else
inline constexpr bool k_is_slow = false;
#endif
inline constexpr int k_rate_trials = k_is_slow ? 20 : 200;
inline constexpr int k_session_trials = k_is_slow ? 4 : 50;

/// Standard score of the difference of two shares of successes, by the pooled share; one success
/// and one failure are added to each so that shares of 0 and 1 have a width too.
/// Source: two-proportion test of any textbook; the added counts after Agresti & Caffo, The
/// American Statistician 54 (2000) 280.
inline double share_score(double share_one, int trials_one, double share_other, int trials_other) {
  const double one = (share_one * trials_one + 1.0) / (trials_one + 2.0);
  const double other = (share_other * trials_other + 1.0) / (trials_other + 2.0);
  const double variance =
      one * (1.0 - one) / (trials_one + 2.0) + other * (1.0 - other) / (trials_other + 2.0);
  return (one - other) / std::sqrt(variance);
}

/// Relative standard error of an rms over `trials` dishes of `facets` facets whose squared tilts
/// scatter as much as their mean (two Gaussian axes): 1 / (2 sqrt(trials facets)).
inline double rms_error(int trials, int facets) {
  return 0.5 / std::sqrt(static_cast<double>(trials) * facets);
}

}  // namespace practice_test
