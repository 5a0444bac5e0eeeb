// Fair comparisons on a machine that others use too: CPU time, medians of runs side by side.
#pragma once

#include <algorithm>
#include <ctime>
#include <vector>

namespace bench {

inline double cpu_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

template <class Work>
double seconds_of(const Work& work) {
  const double before = cpu_seconds();
  work();
  return cpu_seconds() - before;
}

inline double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

struct Pair {
  double first_s = 0.0;
  double second_s = 0.0;
  double ratio = 0.0;  ///< second / first, the median of the pairs
};

/// Both by turns, once without counting.
template <class First, class Second>
Pair compare(const First& first, const Second& second, int pairs = 7) {
  first();
  second();
  std::vector<double> a;
  std::vector<double> b;
  std::vector<double> ratio;
  for (int k = 0; k < pairs; ++k) {
    a.push_back(seconds_of(first));
    b.push_back(seconds_of(second));
    ratio.push_back(b.back() / a.back());
  }
  return {median(a), median(b), median(ratio)};
}

}  // namespace bench
