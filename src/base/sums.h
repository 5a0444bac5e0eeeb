// Sums that keep their digits, added up in a fixed order.
#pragma once

#include <cmath>

namespace base {

/// Compensated sum. The order of the terms is the caller's and must be fixed for equal bits.
/// Source: Neumaier, ZAMM 54 (1974) 39, which also holds when a term exceeds the sum.
class Sum {
 public:
  void add(double term) {
    const double total = sum_ + term;
    lost_ += std::abs(sum_) >= std::abs(term) ? (sum_ - total) + term : (term - total) + sum_;
    sum_ = total;
  }
  void add(const Sum& other) {
    add(other.sum_);
    add(other.lost_);
  }
  [[nodiscard]] double value() const { return sum_ + lost_; }

 private:
  double sum_ = 0.0;
  double lost_ = 0.0;
};

}  // namespace base
