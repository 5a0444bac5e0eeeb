// Sums over a convex window that follows the spot.
#include "photo/moments.h"

#include <algorithm>
#include <cmath>

#include "base/vec.h"

namespace photo {
namespace {

using base::Vec2;

constexpr int k_most_rounds = 40;
constexpr int k_wander_rounds = 16;
constexpr double k_wander_size = 1.15;
constexpr double k_window_widths = 3.0;
constexpr double k_baseline_sigmas = 4.5;
constexpr int k_least_baseline_cells = 60;
constexpr double k_baseline_noise = 5.0;

/// n.p <= most.
struct HalfPlane {
  Vec2 n{0.0, 0.0};
  double most = 0.0;
};

/// Cells [first, end) of a row.
struct Span {
  int first = 0;
  int end = 0;
};

Span span_of(const std::vector<HalfPlane>& window, int row, int columns) {
  double least = 0.5;
  double most = columns - 0.5;
  for (const HalfPlane& side : window) {
    const double room = side.most - side.n.y * (row + 0.5);
    if (side.n.x > 1e-12) {
      most = std::min(most, room / side.n.x);
    } else if (side.n.x < -1e-12) {
      least = std::max(least, room / side.n.x);
    } else if (room < 0.0) {
      return {};
    }
  }
  if (!(least <= most)) return {};
  return {static_cast<int>(std::ceil(least - 0.5)), static_cast<int>(std::floor(most - 0.5)) + 1};
}

std::vector<HalfPlane> window_of(const Moments& spot, const Widths& widths,
                                 const std::vector<Vec2>& others) {
  const Vec2 along = widths.longer_axis;
  const Vec2 across{-along.y, along.x};
  const double half_along = 0.5 * k_window_widths * widths.longer;
  const double half_across = 0.5 * k_window_widths * widths.shorter;
  const double u = glm::dot(along, spot.middle);
  const double v = glm::dot(across, spot.middle);
  std::vector<HalfPlane> window{{along, u + half_along},
                                {-along, half_along - u},
                                {across, v + half_across},
                                {-across, half_across - v}};
  const double reach = 2.0 * (half_along + half_across);
  for (const Vec2& other : others) {
    const Vec2 way = other - spot.middle;
    if (glm::length(way) > reach) continue;
    window.push_back({way, glm::dot(way, 0.5 * (spot.middle + other))});
  }
  return window;
}

template <class Visit>
void for_cells(const BoardView& view, const std::vector<HalfPlane>& window, double middle_y,
               double reach, const Visit& visit) {
  const int top = static_cast<int>(std::clamp(middle_y - reach, 0.0, view.rows - 1.0));
  const int bottom = static_cast<int>(std::clamp(middle_y + reach, 0.0, view.rows - 1.0));
  for (int row = top; row <= bottom; ++row) {
    const Span span = span_of(window, row, view.columns);
    for (int column = span.first; column < span.end; ++column) {
      const std::size_t k = view.index(column, row);
      if ((view.state[k] & (k_outside_photo | k_on_mark)) == 0) {
        visit(column + 0.5, row + 0.5, static_cast<double>(view.light[k]));
      }
    }
  }
}

/// Mean level beyond 4.5 sigma, or 0 when too little is seen of it.
double baseline_of(const BoardView& view, const std::vector<HalfPlane>& window, double reach,
                   const Moments& spot, double last, double noise) {
  const base::Mat2 spread{spot.xx, spot.xy, spot.xy, spot.yy};
  if (!(glm::determinant(spread) > 0.0)) return 0.0;
  const base::Mat2 inverse = glm::inverse(spread);
  double sum = 0.0;
  int count = 0;
  for_cells(view, window, spot.middle.y, reach, [&](double x, double y, double light) {
    const Vec2 off = Vec2{x, y} - spot.middle;
    if (glm::dot(off, inverse * off) < k_baseline_sigmas * k_baseline_sigmas) return;
    if (noise > 0.0 && std::abs(light - last) > k_baseline_noise * noise) return;
    sum += light;
    ++count;
  });
  return count >= k_least_baseline_cells ? sum / count : 0.0;
}

Moments sums_in(const BoardView& view, const std::vector<HalfPlane>& window, double reach,
                const Moments& last, double baseline) {
  Moments next;
  Vec2 first(0.0);
  for_cells(view, window, last.middle.y, reach, [&](double x, double y, double light) {
    const double value = light - baseline;
    const double dx = x - last.middle.x;
    const double dy = y - last.middle.y;
    next.sum += value;
    first.x += value * dx;
    first.y += value * dy;
    next.xx += value * dx * dx;
    next.yy += value * dy * dy;
    next.xy += value * dx * dy;
    next.leverage += 0.5 * (dx * dx + dy * dy);
  });
  if (!(next.sum > 0.0)) return next;
  const Vec2 off = first / next.sum;
  next.middle = last.middle + off;
  next.xx = next.xx / next.sum - off.x * off.x;
  next.yy = next.yy / next.sum - off.y * off.y;
  next.xy = next.xy / next.sum - off.x * off.y;
  return next;
}

/// The mean of rounds that do not come to rest.
class Wander {
 public:
  void add(const Moments& spot, double size) {
    least_ = count_ == 0 ? size : std::min(least_, size);
    most_ = std::max(most_, size);
    sum_.middle += spot.middle;
    sum_.xx += spot.xx;
    sum_.yy += spot.yy;
    sum_.xy += spot.xy;
    sum_.sum += spot.sum;
    sum_.leverage += spot.leverage;
    ++count_;
  }
  [[nodiscard]] Moments mean() const {
    const double share = 1.0 / count_;
    return {.middle = sum_.middle * share,
            .xx = sum_.xx * share,
            .yy = sum_.yy * share,
            .xy = sum_.xy * share,
            .sum = sum_.sum * share,
            .leverage = sum_.leverage * share,
            .settled = most_ < k_wander_size * least_};
  }

 private:
  Moments sum_;
  double least_ = 0.0;
  double most_ = 0.0;
  int count_ = 0;
};

}  // namespace

Widths widths_of(double xx, double yy, double xy) {
  const double difference = xx - yy;
  const double root = std::sqrt(difference * difference + 4.0 * xy * xy);
  const auto width = [](double twice) { return 2.0 * std::sqrt(2.0 * std::max(twice, 0.0)); };
  Widths widths{.longer = width(xx + yy + root), .shorter = width(xx + yy - root)};
  if (root > 0.0) {
    // Half an angle from the cosine of the whole.
    const double cosine = std::clamp(difference / root, -1.0, 1.0);
    const double x = std::sqrt(0.5 * (1.0 + cosine));
    const double y = std::sqrt(0.5 * (1.0 - cosine));
    widths.longer_axis = {x, xy < 0.0 ? -y : y};
  }
  return widths;
}

Moments moments_around(const BoardView& view, const Vec2& start, double start_width,
                       const std::vector<Vec2>& others, double noise) {
  const double variance = base::square(start_width / 4.0);
  Moments spot{.middle = start, .xx = variance, .yy = variance};
  Wander wander;
  double baseline = 0.0;
  for (int round = 0; round < k_most_rounds; ++round) {
    const Widths widths = widths_of(spot.xx, spot.yy, spot.xy);
    const auto window = window_of(spot, widths, others);
    const double reach = 0.5 * k_window_widths * (widths.longer + widths.shorter) + 1.0;
    baseline = baseline_of(view, window, reach, spot, baseline, noise);
    const Moments next = sums_in(view, window, reach, spot, baseline);
    const bool is_spot =
        next.sum > 0.0 && next.xx > 0.02 && next.yy > 0.02 && next.xx * next.yy > next.xy * next.xy;
    const double size = std::sqrt(std::max(next.xx + next.yy, 0.0));
    if (!is_spot || size > 4.0 * std::sqrt(2.0 * variance) ||
        glm::distance(next.middle, start) > start_width) {
      return {.middle = start, .xx = variance, .yy = variance};
    }
    const double grown = std::abs(size / std::sqrt(spot.xx + spot.yy) - 1.0);
    const double moved = glm::distance(next.middle, spot.middle);
    spot = next;
    if (round > 0 && grown < 1e-4 && moved < 1e-3) {
      spot.settled = true;
      return spot;
    }
    if (round >= k_most_rounds - k_wander_rounds) wander.add(spot, size);
  }
  return wander.mean();
}

}  // namespace photo
