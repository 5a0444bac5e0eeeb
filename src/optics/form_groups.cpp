// Few moulds for many radii: the best split of sorted values into runs.
#include <algorithm>
#include <limits>
#include <numeric>

#include "base/check.h"
#include "optics/form_choice.h"

namespace optics {
namespace {

/// Prefix sums over the sorted values: the cost of any run in three look-ups.
class Runs {
 public:
  void add(double value, double weight) {
    // About the first value, so that the difference of squares keeps its digits.
    if (w_.size() == 1) shift_ = value;
    const double x = value - shift_;
    w_.push_back(w_.back() + weight);
    wx_.push_back(wx_.back() + weight * x);
    wxx_.push_back(wxx_.back() + weight * x * x);
  }
  [[nodiscard]] double centre(std::size_t from, std::size_t to) const {
    return shift_ + (wx_[to] - wx_[from]) / (w_[to] - w_[from]);
  }
  [[nodiscard]] double cost(std::size_t from, std::size_t to) const {
    const double w = w_[to] - w_[from];
    const double x = wx_[to] - wx_[from];
    return std::max(wxx_[to] - wxx_[from] - x * x / w, 0.0);
  }

 private:
  double shift_ = 0.0;
  std::vector<double> w_{0.0}, wx_{0.0}, wxx_{0.0};
};

/// One more group: best[j] for the first j values. The best last start never moves back as j grows
/// (the cost is of the Monge kind), so halves are searched between their neighbours' starts.
class Layer {
 public:
  Layer(const Runs& runs, const std::vector<double>& before)
      : best(before.size(), std::numeric_limits<double>::infinity()),
        start(before.size(), 0),
        runs_(runs),
        before_(before) {
    if (before.size() > 1) fill(1, before.size() - 1, 0, before.size() - 2);
  }

  std::vector<double> best;
  std::vector<std::size_t> start;

 private:
  void fill(std::size_t low, std::size_t high, std::size_t from, std::size_t to) {
    const std::size_t middle = low + (high - low) / 2;
    for (std::size_t s = from; s <= std::min(to, middle - 1); ++s) {
      const double cost = before_[s] + runs_.cost(s, middle);
      if (cost < best[middle]) {
        best[middle] = cost;
        start[middle] = s;
      }
    }
    if (low < middle) fill(low, middle - 1, from, start[middle]);
    if (middle < high) fill(middle + 1, high, start[middle], to);
  }

  const Runs& runs_;
  const std::vector<double>& before_;
};

}  // namespace

Grouping group_values(const std::vector<double>& values, const std::vector<double>& weights,
                      int groups) {
  BASE_CHECK(values.size() == weights.size() && !values.empty() && groups >= 1,
             "each value has a weight, and there is at least one group");
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  Runs runs;
  for (const std::size_t k : order) runs.add(values[k], weights[k]);

  const std::size_t n = values.size();
  const std::size_t count = std::min(static_cast<std::size_t>(groups), n);
  std::vector<double> none(n + 1, std::numeric_limits<double>::infinity());
  none[0] = 0.0;
  std::vector<Layer> layers;
  layers.reserve(count);
  for (std::size_t g = 0; g < count; ++g)
    layers.emplace_back(runs, g == 0 ? none : layers[g - 1].best);

  Grouping grouping;
  grouping.group.assign(n, 0);
  grouping.centre.assign(count, 0.0);
  grouping.cost = layers.back().best[n];
  std::size_t end = n;
  for (std::size_t g = count; g-- > 0;) {
    const std::size_t first = layers[g].start[end];
    grouping.centre[g] = runs.centre(first, end);
    for (std::size_t k = first; k < end; ++k) grouping.group[order[k]] = static_cast<int>(g);
    end = first;
  }
  return grouping;
}

}  // namespace optics
